// A Python that was started from its memory reads none of its files: neither its library nor the packages
// are there then. What asks for one of them all the same is done again once they are there.

import { writeFiles } from "./archive.js";
import { release } from "./gzip.js";

const ZIP = Uint8Array.of(0x50, 0x4b, 5, 6, ...new Array(18).fill(0)); // one without a file

/** What stands in the place of the library until it comes. */
export const NO_LIBRARY = Promise.resolve(ZIP);

export class LateFiles {
  #python;
  #bring;
  #missed = false; // whether a file was asked for
  #look; // the file system's own way to find one

  /** @param {() => Promise<{library: Uint8Array, packages: Uint8Array}>} bring */
  constructor(python, bring) {
    const { FS } = python;
    this.#python = python;
    this.#bring = bring;
    this.#look = FS.lookupPath;
    FS.lookupPath = (path, ...more) => {
      this.#missed ||= String(path).startsWith("/lib/");
      return this.#look.call(FS, path, ...more);
    };
  }

  /** What `act` gives; it must leave nothing behind when it is done again. */
  async with(act) {
    this.#missed = false;
    try {
      const made = act();
      if (!this.#missed) {
        return made;
      }
    } catch (error) {
      if (!this.#missed) {
        throw error;
      }
    }
    await this.#come();
    return act();
  }

  async #come() {
    if (!this.#look) {
      return; // they are there
    }
    const { FS } = this.#python;
    const { library, packages } = await this.#bring();
    FS.lookupPath = this.#look;
    this.#look = undefined;
    FS.writeFile(this.#python.runPython("import sys; next(one for one in sys.path if one.endswith('.zip'))"), library);
    writeFiles(FS, packages);
    [library, packages].forEach(release);
    this.#python.runPython("import importlib; importlib.invalidate_caches()");
  }
}
