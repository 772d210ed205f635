// The engine's files are gzip in parts; gzip's own checksum finds damage.

/**
 * Give back the memory of bytes that nobody needs any more, now: a page and a worker that rest may keep
 * what is left to them for as long as they live.
 */
export function release(bytes) {
  bytes.buffer.detached || bytes.buffer.transfer?.(0);
}

const FIRST = 16_384; // bytes

/**
 * The bytes that the parts of a file carry; parts may be promised. `begun` gets those that the file begins
 * with as soon as they are there.
 */
export async function unpack(parts, bytes, begun = () => {}) {
  const gunzip = new DecompressionStream("gzip");
  const written = write(gunzip.writable.getWriter(), parts);
  written.catch(() => {}); // the reader below hears of it first
  const result = new Uint8Array(bytes); // a third quicker than to let a Response gather it
  const reader = gunzip.readable.getReader();
  let end = 0;
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    const before = end;
    result.set(part.value, end);
    end += part.value.length;
    release(part.value);
    before < FIRST && end >= FIRST && begun(result.slice(0, FIRST));
  }
  await written;
  if (end !== bytes) {
    throw new Error(`${end} bytes in place of ${bytes}`);
  }
  return result;
}

async function write(writer, parts) {
  try {
    for (const part of parts) {
      await writer.write(await part);
    }
    await writer.close();
  } catch (error) {
    writer.abort(error).catch(() => {});
    throw error;
  }
}
