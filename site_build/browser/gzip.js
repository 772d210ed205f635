// The engine's files are gzip in base64, in parts; gzip's own checksum finds damage.

/** The bytes that the parts of a file carry. */
export async function unpack(parts, bytes) {
  const gunzip = new DecompressionStream("gzip");
  const written = write(gunzip.writable.getWriter(), parts);
  written.catch(() => {}); // the reader below hears of it first
  const result = new Uint8Array(bytes); // a third quicker than to let a Response gather it
  const reader = gunzip.readable.getReader();
  let end = 0;
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    result.set(part.value, end);
    end += part.value.length;
  }
  await written;
  if (end !== bytes) {
    throw new Error(`${end} bytes in place of ${bytes}`);
  }
  return result;
}

async function write(writer, parts) {
  for (const part of parts) {
    await writer.write(fromBase64(part));
  }
  await writer.close();
}

export function fromBase64(text) {
  if (Uint8Array.fromBase64) {
    return Uint8Array.fromBase64(text);
  }
  const plain = atob(text);
  const bytes = new Uint8Array(plain.length);
  for (let i = 0; i < plain.length; i += 1) {
    bytes[i] = plain.charCodeAt(i);
  }
  return bytes;
}
