// The memory of a started Python, as a file: Pyodide's own snapshot without the pages that an engine is
// born with anyway, empty ones and WebAssembly's own data. A third of it is left out so.
//
// The file: the snapshot's head, whose second word tells how long it is; the size of the memory and the
// number of runs (four bytes each, little endian); for each run its first page and how many follow; then
// the pages of all runs.

const PAGE = 4_096; // bytes
const GROWTH = 65_536; // bytes, WebAssembly's unit

/** A snapshot's file; `born` is the memory of an engine before anything has run in it. */
export function thinned(snapshot, born) {
  const [, head] = words(snapshot, 0, 2);
  const memory = snapshot.subarray(head);
  const runs = [];
  for (let page = 0; page * PAGE < memory.length; page += 1) {
    if (!isAsBorn(memory, born, page * PAGE)) {
      const last = runs.at(-1);
      last && last[0] + last[1] === page ? (last[1] += 1) : runs.push([page, 1]);
    }
  }
  const table = Uint32Array.from([memory.length, runs.length, ...runs.flat()]);
  const pages = runs.map(([page, count]) => memory.subarray(page * PAGE, (page + count) * PAGE));
  return joined([snapshot.subarray(0, head), new Uint8Array(table.buffer), ...pages]);
}

function isAsBorn(memory, born, start) {
  for (let at = start; at < start + PAGE; at += 1) {
    if (memory[at] !== (born[at] ?? 0)) {
      return false;
    }
  }
  return true;
}

/** What an engine is to start from. */
export class Memory {
  head; // what Pyodide knows of it: a snapshot without any memory
  #size;
  #runs; // [where it begins in the memory, where in the file, its bytes]
  #kept = []; // [where it begins, what stays as it was born]
  #file;

  /**
   * @param {Uint8Array} first what the file begins with
   * @param {Uint8Array | Promise<Uint8Array>} file the whole, which may come while the engine is being made
   */
  constructor(first, file) {
    const [, head] = words(first, 0, 2);
    const [size, count] = words(first, head, 2);
    const table = words(first, head + 8, 2 * count);
    let at = head + 8 + 8 * count;
    this.head = first.slice(0, head);
    this.#size = size;
    this.#runs = Array.from({ length: count }, (_, run) => {
      const [begun, length] = [at, table[2 * run + 1] * PAGE];
      at += length;
      return [table[2 * run] * PAGE, begun, length];
    });
    this.#file = file;
  }

  /**
   * An instance that was just born gets room enough. Pyodide asks for more when a snapshot is larger, but
   * its engine brings its own memory and doesn't listen.
   */
  takeUp({ exports: { memory } }) {
    const born = new Uint8Array(memory.buffer);
    let at = 0;
    for (const [start, , length] of [...this.#runs, [this.#size, 0, 0]]) {
      at < start && at < born.length && this.#kept.push([at, born.slice(at, start)]);
      at = start + length;
    }
    const missing = Math.ceil((this.#size - born.length) / GROWTH);
    missing > 0 && memory.grow(missing);
  }

  /** Make the engine's module as `create` does, and lay this memory over its own. */
  creator(create) {
    return async (settings) => {
      const module = await create(settings);
      const file = await this.#file;
      this.#kept.forEach(([start, bytes]) => module.HEAPU8.set(bytes, start));
      this.#runs.forEach(([start, begun, length]) => module.HEAPU8.set(file.subarray(begun, begun + length), start));
      this.#kept = this.#runs = [];
      this.#file = undefined;
      return module;
    };
  }
}

function words(bytes, start, count) {
  const view = new DataView(bytes.buffer, bytes.byteOffset + start, 4 * count);
  return Array.from({ length: count }, (_, index) => view.getUint32(4 * index, true));
}

function joined(parts) {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
