// Starts a Python for a build step in Node: nothing fetched, nothing left to chance or to the clock,
// so that the same inputs always give the same bytes.

import crypto from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { join } from "node:path";

import { writeFiles } from "../archive.js";
import { Memory } from "../memory.js";

const { instantiate } = WebAssembly;

// Node would print the line that failed: a megabyte of minified engine.
process.on("uncaughtException", (error) => {
  process.stderr.write(`${error?.message ?? error}\n`, () => process.exit(1));
});

/** The step's orders: a JSON file named on the command line. */
export function orders() {
  return JSON.parse(readFileSync(process.argv[2], "utf8"));
}

export function readBytes(path) {
  const buffer = readFileSync(path);
  return new Uint8Array(buffer.buffer, buffer.byteOffset, buffer.byteLength).slice();
}

export function writeJson(path, value) {
  writeFileSync(path, JSON.stringify(value, null, 1) + "\n");
}

/**
 * @param {object} wanted
 * @param {string} wanted.pyodide folder of the npm package
 * @param {string} [wanted.library] zip of the standard library, in place of the one that comes with it
 * @param {Uint8Array} [wanted.packages] archive of files to lay into the file system
 * @param {Uint8Array} [wanted.snapshot] start from this memory, a file of memory.js
 * @param {(memory: Uint8Array) => void} [wanted.born] a snapshot is to be taken: given the memory in which
 *     nothing has run yet
 */
export async function startPython({ pyodide, library, packages, snapshot, born }) {
  leaveNothingToChance();
  const memory = snapshot && new Memory(snapshot, snapshot);
  WebAssembly.instantiate = async (...given) => {
    const made = await instantiate(...given);
    born?.(new Uint8Array(made.instance.exports.memory.buffer).slice());
    memory?.takeUp(made.instance);
    return made;
  };
  const part = (name) => import(pathToFileURL(join(pyodide, name)).href);
  const [{ loadPyodide }, { default: create }] = [await part("pyodide.mjs"), await part("pyodide.asm.mjs")];
  const python = await loadPyodide({
    indexURL: pyodide,
    lockFileContents: emptyLock(pyodide),
    stdLibURL: library ?? join(pyodide, "python_stdlib.zip"),
    env: { PYTHONHASHSEED: "0" },
    enableRunUntilComplete: false,
    createPyodideModule: memory?.creator(create) ?? create,
    _loadSnapshot: memory?.head,
    _makeSnapshot: Boolean(born),
  });
  if (packages) {
    writeFiles(python.FS, packages);
    python.runPython("import importlib; importlib.invalidate_caches()");
  }
  return python;
}

/** Pyodide's own lock without its packages: they would be asked of a host elsewhere. */
export function emptyLock(pyodide) {
  const lock = JSON.parse(readFileSync(join(pyodide, "pyodide-lock.json"), "utf8"));
  return { ...lock, packages: {} };
}

function leaveNothingToChance() {
  const EPOCH = Date.UTC(2026, 0, 1);
  Date.now = () => EPOCH;
  performance.now = () => 0;
  globalThis.fetch = (address) => Promise.reject(new Error(`a build step may not fetch ${address}`));
  // The engine takes its seed from here; the worker gives Python a fresh one after the start.
  crypto.randomFillSync = (view) => view.fill(1);
}
