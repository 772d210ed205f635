// Brings the engine's files into the page, in parts small enough for a slow line. Each part is a script
// with the bytes in a string, since a script is the one thing that every host serves and that a page
// opened from a folder may load; on a host it is fetched, and the bytes taken out of it. A part that
// doesn't come is tried again by itself; what has arrived is kept.

import { release } from "./gzip.js";

/* global ENGINE: the manifest {edition, files: [{name, key, parts: [bytes], size, bytes: unpacked}]}, in
   the order in which the files are needed, put here by the build */

const AT_FIRST = 3; // parts on their way: on a slow line each soon comes to its end
const AT_MOST = 16; // on a quick one, where the turns cost more than the bytes
const QUICK = 500; // ms for a part on a quick line
const PAUSES = [500, 1000, 2000, 4000, 8000]; // ms before a part is tried again; the last one stays
const BACKSLASH = 0x5c;
const QUOTE = 0x22;
const ESCAPED = { 0x6e: 10, 0x72: 13 }; // n and r; the others stand for themselves
const TRIES = 3; // of a part that the host gives, but not as it should be

// The guide's own file, its records, is no file of the engine's: each page names the one of its guide.
const guide = document.querySelector("meta[name=brinebook-guide]")?.content;

/** The files by name. */
export const FILES = Object.fromEntries(
  [...ENGINE.files, ...(guide ? [JSON.parse(guide)] : [])].map((file) => [file.name, file]),
);

const PART = Math.max(...ENGINE.files.flatMap(({ parts }) => parts)); // bytes, as most of them have

/** All files together [bytes]. */
export const SIZE = sizeOf(Object.values(FILES));

const folder = new URL(".", document.currentScript.src);
const loader = document.currentScript.src.split("/").pop();
export const hosted = location.protocol !== "file:";
let distrusted = false; // whether what the browser has kept may be damaged
const kept = new Map(); // part -> its bytes

/** A file that can't be had: `reason` is a key of words.js. */
export class Missing extends Error {
  constructor(reason, key) {
    super(`${key}.js`);
    this.reason = reason;
  }
}

/** The address of an engine file. */
export function addressOf(key) {
  return new URL(`${key}.js`, folder).href;
}

/** Whether the line is known to bring so many bytes in that time [ms]. */
export function isQuick(size, time) {
  return hosted && !distrusted && rate() < Infinity && isBrought(size, time);
}

/** Let go of what has arrived: the engine has it now, or it turned out to be damaged. */
export function forgetParts({ damaged = false } = {}) {
  kept.forEach(release);
  kept.clear();
  distrusted ||= damaged;
}

/** The parts of several files, first come first served, until it is ended. */
export class Line {
  #ended = new AbortController();
  #waiting = []; // those who wait for their turn
  #under = 0; // parts on their way
  #most = hosted && rate() === Infinity ? AT_FIRST : atOnce(AT_FIRST); // as many as that may be
  #tell;
  #allBegun = []; // those to tell once no part waits for its turn

  /** @param {(is: boolean) => void} tell called when the connection is interrupted, and when it is back */
  constructor(tell) {
    this.#tell = tell;
  }

  /** A file's parts, promised; `arrived` is called with each. They reject with Missing. */
  partsOf(file, arrived) {
    return file.parts.map((size, index) => {
      const part = this.#inTurn(() => this.#part(`${file.key}.${index + 1}`, size));
      part.then(arrived, () => {}); // who waits for it is told
      return part;
    });
  }

  /** Whether so many bytes more take no longer than that [ms], once all that was asked for is on its way. */
  async quickFor(size, time) {
    this.#waiting.length && (await new Promise((resolve) => this.#allBegun.push(resolve)));
    return !hosted || isBrought(size, time);
  }

  end() {
    this.#ended.abort();
    this.#waiting.splice(0).forEach((go) => go());
    this.#allBegun.splice(0).forEach((go) => go());
  }

  async #inTurn(act) {
    await new Promise((resolve) => {
      this.#waiting.push(resolve);
      this.#go();
    });
    const begun = performance.now();
    try {
      this.#ended.signal.throwIfAborted();
      return await act();
    } finally {
      this.#under -= 1;
      const quick = performance.now() - begun < QUICK;
      this.#most = quick ? atOnce(this.#most + 2) : AT_FIRST;
      this.#go();
    }
  }

  #go() {
    while (this.#under < this.#most && this.#waiting.length) {
      this.#under += 1;
      this.#waiting.shift()();
    }
    this.#waiting.length || this.#allBegun.splice(0).forEach((go) => go());
  }

  async #part(key, size) {
    const { signal } = this.#ended;
    for (let tried = 1; !kept.has(key); tried += 1) {
      const bytes = await (hosted ? this.#byFetch(key, size, tried) : this.#byScript(key, size, tried));
      if (bytes) {
        kept.set(key, bytes);
        this.#tell(false);
      } else {
        await pause(PAUSES[Math.min(tried, PAUSES.length) - 1], signal);
      }
      signal.throwIfAborted();
    }
    return kept.get(key);
  }

  /** The bytes, at another try past what the browser has kept; or nothing, when trying again may help. */
  async #byFetch(key, size, tried) {
    const { signal } = this.#ended;
    let cause;
    try {
      const response = await fetch(addressOf(key), { cache: tried > 1 || distrusted ? "reload" : "default", signal });
      const file = new Uint8Array(await response.arrayBuffer());
      const bytes = response.ok ? carried(file, key) : undefined;
      if (bytes?.length === size) {
        return bytes;
      }
      cause = causeOf(response, file, size);
    } catch {
      // the line was interrupted
    }
    if (!cause) {
      signal.aborted || this.#tell(true);
    } else if (tried >= TRIES) {
      throw new Missing(cause === "missing" && (await pageIsReplaced()) ? "edition" : cause, key);
    }
    return undefined;
  }

  async #byScript(key, size, tried) {
    const bytes = await byScript(key, this.#ended.signal);
    if (bytes?.length === size) {
      return bytes;
    }
    if (tried >= TRIES) {
      throw new Missing("missing", key);
    }
    return undefined;
  }
}

/**
 * How quickly files came over the line [bytes/ms] while any was on its way, the page's own among them; without end
 * where all were kept, or only confirmed by the host. By the browser's own times: a page that is busy asks and hears
 * late, and would take a slow phone for a slow line.
 */
function rate() {
  let [size, took, until] = [0, 0, 0];
  const brought = ({ transferSize, encodedBodySize, responseEnd }) => transferSize > 0 && encodedBodySize > 0 && responseEnd > 0;
  const came = performance.getEntriesByType("resource").filter(brought);
  for (const { startTime, responseEnd, encodedBodySize } of came.sort((a, b) => a.startTime - b.startTime)) {
    size += encodedBodySize;
    took += Math.max(0, responseEnd - Math.max(startTime, until));
    until = Math.max(until, responseEnd);
  }
  return came.length ? size / Math.max(took, 1) : Infinity;
}

/** Whether such a line brings so many bytes in that time [ms]. */
function isBrought(size, time) {
  return size / rate() <= time;
}

/** How many parts such a line brings in the time in which one of them counts as quick, within bounds. */
function atOnce(least) {
  const brought = hosted ? Math.floor((rate() * QUICK) / PART) : AT_MOST;
  return Math.min(Math.max(least, brought), AT_MOST);
}

/** What a part's file carries in its string, written over it; nothing, if it isn't that part's. */
function carried(file, key) {
  const head = new TextEncoder().encode(`(self.brinebookFiles??={})["${key}"]="`);
  if (!head.every((byte, index) => file[index] === byte)) {
    return undefined;
  }
  let length = 0;
  let start = head.length;
  const end = file.lastIndexOf(QUOTE);
  for (let at = file.indexOf(BACKSLASH, start); at >= 0 && at < end; at = file.indexOf(BACKSLASH, start)) {
    file.copyWithin(length, start, at);
    length += at - start;
    file[length] = ESCAPED[file[at + 1]] ?? file[at + 1];
    length += 1;
    start = at + 2;
  }
  file.copyWithin(length, start, Math.max(start, end));
  return file.subarray(0, length + Math.max(0, end - start));
}

/** Why an answer of the host isn't the part; nothing, when the host is only busy. */
function causeOf({ ok, status }, file, size) {
  if (!ok) {
    return status >= 500 || status === 429 ? undefined : "missing";
  }
  if (/^\s*</.test(new TextDecoder().decode(file.subarray(0, 100)))) {
    return "portal";
  }
  return file.length < size ? "cut" : "replaced";
}

/** What a part's script hands over, or nothing. */
function byScript(key, signal) {
  return new Promise((resolve) => {
    const script = document.createElement("script");
    const give = () => {
      script.remove();
      const text = self.brinebookFiles?.[key];
      delete self.brinebookFiles?.[key];
      resolve(text && lowBytes(text));
    };
    script.charset = "x-user-defined"; // leaves bytes below 128 alone and puts the others 0xf700 higher
    script.src = addressOf(key);
    script.onload = give;
    script.onerror = give;
    signal.addEventListener("abort", give, { once: true });
    document.head.append(script);
  });
}

function lowBytes(text) {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i += 1) {
    bytes[i] = text.charCodeAt(i);
  }
  return bytes;
}

/** Whether the host has this page with another loader now: a new edition has taken the place of ours. */
async function pageIsReplaced() {
  try {
    const response = await fetch(location.href.replace(/#.*$/s, ""), { cache: "no-cache" });
    const page = await response.text();
    return response.ok && page.includes("assets/engine/") && !page.includes(loader);
  } catch {
    return false;
  }
}

/** For a time, or until the network is back. */
function pause(time, signal) {
  return new Promise((resolve) => {
    setTimeout(resolve, time);
    addEventListener("online", resolve, { once: true, signal });
    signal.addEventListener("abort", resolve, { once: true });
  });
}

/** Files together [bytes]. */
export function sizeOf(files) {
  return files.reduce((sum, { size }) => sum + size, 0);
}
