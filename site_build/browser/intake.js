// What comes into the worker, all of it from the page. It is there from the worker's first moment (boot.js),
// while the rest of the worker (worker.js) is still to come.
//
//   in:  {file: name, index, part, count, bytes}  one of the parts of an engine's file, which are so many; its
//                                                 bytes, unpacked
//        {drop: name}                             a file won't come
//   out: {hello}                                  the worker runs
//        {refused}                                the rest can't be run this way

import { release, unpack } from "./gzip.js";

/** The intake of this worker, one for all its scripts. */
export function intake() {
  return (self.brinebookIntake ??= new Intake());
}

class Intake {
  #files = new Map(); // name -> what comes of it
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

  /** A file's bytes; rejects where it is damaged, or won't come. */
  file(name) {
    return this.#of(name).whole.promise;
  }

  /** What a file begins with, as soon as that is there; rejects where it won't come. */
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
    this.#files.has(name) || this.#files.set(name, new Coming());
    return this.#files.get(name);
  }

  #hear(data) {
    if (data.file) {
      this.#of(data.file).take(data);
    } else if (data.drop) {
      this.#of(data.drop).end(new Error("missing"));
    } else {
      this.#listener(data);
    }
  }
}

let last = Promise.resolve(); // files are unpacked one after the other: what came first is needed first

/** A file that comes in parts; each is unpacked as soon as those before it are. */
class Coming {
  first = deferred();
  whole = deferred();
  #parts;
  #ended = false;

  take({ index, part, count, bytes }) {
    if (this.#ended) {
      return; // it was on its way; the others won't come
    }
    this.#parts ??= this.#begin(count, bytes);
    this.#parts[index].resolve(part);
  }

  end(error) {
    this.#ended = true;
    [this.first, this.whole, ...(this.#parts ?? [])].forEach(({ reject }) => reject(error));
  }

  #begin(count, bytes) {
    const deferreds = Array.from({ length: count }, deferred);
    const parts = deferreds.map(({ promise }) => promise);
    const done = last.then(() => unpack(parts, bytes, this.first.resolve));
    done.then(this.whole.resolve, (error) => this.end(error));
    last = done.catch(() => {}).then(() => parts.forEach((one) => one.then(release, () => {})));
    return deferreds;
  }
}

/** A promise, and the ways to settle it; a rejection that nobody waits for is no fault. */
function deferred() {
  const one = {};
  one.promise = new Promise((resolve, reject) => Object.assign(one, { resolve, reject }));
  one.promise.catch(() => {});
  return one;
}
