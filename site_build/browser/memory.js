// A snapshot goes into the memory of a fresh engine, which is born with so and so much. Pyodide asks
// for more when the snapshot is larger, but its engine brings its own memory and doesn't listen: the
// memory is made larger here, before Pyodide looks at it.

const PAGE = 65_536; // bytes, WebAssembly's unit

/** Give an instance room for a snapshot. */
export function makeRoom({ exports: { memory } }, snapshot) {
  const [, head] = new Uint32Array(snapshot.buffer, snapshot.byteOffset, 2);
  const missing = Math.ceil((snapshot.length - head - memory.buffer.byteLength) / PAGE);
  if (missing > 0) {
    memory.grow(missing);
  }
}
