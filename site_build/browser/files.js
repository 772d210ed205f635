// Brings the engine's files into the page. They are scripts, since a script is the one thing that
// every host serves and that a page opened from a folder may load.

/* global ENGINE: the manifest {edition, files: [{name, key, size, bytes}]}, put here by the build */

/** All files together [bytes of text]. */
export const SIZE = ENGINE.files.reduce((sum, { size }) => sum + size, 0);

export class Missing extends Error {
  constructor(reason, file) {
    super(`${file.key}.js`);
    this.reason = reason;
  }
}

const folder = new URL(".", document.currentScript.src);

/** The address of an engine file. */
export function addressOf({ key }) {
  return new URL(`${key}.js`, folder).href;
}

/** The text that a file carries. Rejects with Missing. */
export function textOf(file) {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = addressOf(file);
    script.onload = () => {
      script.remove();
      const text = take(file.key);
      text === undefined ? reject(new Missing("replaced", file)) : resolve(text);
    };
    script.onerror = () => {
      script.remove();
      reject(new Missing("missing", file));
    };
    document.head.append(script);
  });
}

function take(key) {
  const text = self.brinebookFiles?.[key];
  delete self.brinebookFiles?.[key];
  return text;
}
