// The archive that carries files into Python's file system: four bytes with the length of an index
// (little endian), the index as JSON {path: [start, length]}, then the files' bytes.

export function writeFiles(fileSystem, archive) {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength);
  const start = 4 + view.getUint32(0, true);
  const index = JSON.parse(new TextDecoder().decode(archive.subarray(4, start)));
  for (const [path, [offset, length]] of Object.entries(index)) {
    fileSystem.mkdirTree(path.slice(0, path.lastIndexOf("/")));
    fileSystem.writeFile(path, archive.subarray(start + offset, start + offset + length));
  }
}
