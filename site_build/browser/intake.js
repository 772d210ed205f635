// What comes into the worker, all of it from the page. It is there from the worker's first moment (boot.js),
// while the rest of the worker (worker.js) is still to come.
//
//   in:  {file: name, bytes}   one of the engine's files
//        {first: name, bytes}  what a file begins with, ahead of it
//        {drop: name}          a file won't come
//   out: {hello}               the worker runs
//        {refused}             the rest can't be run this way

/** The intake of this worker, one for all its scripts. */
export function intake() {
  return (self.brinebookIntake ??= new Intake());
}

class Intake {
  #files = new Map(); // name -> its first bytes and the whole, promised
  #early = []; // messages that nobody listens to yet
  #listener = (message) => this.#early.push(message);
  #importScripts = self.importScripts?.bind(self); // Pyodide runs only where it is taken away

  constructor() {
    self.onmessage = ({ data }) => this.#hear(data);
    postMessage({ hello: true });
  }

  /** Hear all other messages, those too that came before. */
  listen(listener) {
    this.#listener = listener;
    this.#early.splice(0).forEach(listener);
  }

  /** A file's bytes; rejects where it won't come. */
  file(name) {
    return this.#of(name).whole.promise;
  }

  /** What a file begins with, or more; rejects where it won't come. */
  first(name) {
    return this.#of(name).first.promise;
  }

  /** Run the rest of the worker, from an address or out of its file. */
  async run(address) {
    let blob;
    try {
      blob = address ? undefined : URL.createObjectURL(new Blob([await this.file("worker")], { type: "text/javascript" }));
      this.#importScripts(address ?? blob);
    } catch (error) {
      postMessage({ refused: String(error) });
    }
    blob && URL.revokeObjectURL(blob);
  }

  #of(name) {
    this.#files.has(name) || this.#files.set(name, { first: deferred(), whole: deferred() });
    return this.#files.get(name);
  }

  #hear(data) {
    if (data.file) {
      const { first, whole } = this.#of(data.file);
      [first, whole].forEach(({ resolve }) => resolve(data.bytes));
    } else if (data.first) {
      this.#of(data.first).first.resolve(data.bytes);
    } else if (data.drop) {
      const { first, whole } = this.#of(data.drop);
      [first, whole].forEach(({ reject }) => reject(new Error("missing")));
    } else {
      this.#listener(data);
    }
  }
}

/** A promise, and the ways to settle it; a rejection that nobody waits for is no fault. */
function deferred() {
  const one = {};
  one.promise = new Promise((resolve, reject) => Object.assign(one, { resolve, reject }));
  one.promise.catch(() => {});
  return one;
}
