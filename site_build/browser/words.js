// What the page says about the engine and the offline copy. What calculators say comes from Python.

const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;

const EXAMPLE_STAYS = "The answer below is still the page's example.";

export const engine = {
  fetching: (total) => `Getting the calculator: ${megabytes(total)}, once.`,
  soFar: (done) => `${megabytes(done)} so far.`,
  starting: "Starting the calculator.",
  waiting: EXAMPLE_STAYS,
  ready: "The answer follows what you type.",
  retry: "Try again",
  failed: (reason) => `The calculator can't start: ${reason} ${EXAMPLE_STAYS}`,
  stopped: "That took too long and was stopped. What you typed is kept: change a value to try again.",
  stumbled: (detail) => `The calculator stumbled over this input (${detail}). What you typed is kept.`,
};

export const reasons = {
  missing: (file) => `the file ${file} could not be had from where this guide lies.`,
  replaced: (file) => `${file} is not the file it should be; a newer edition may have replaced it. Load the page again.`,
  damaged: () => "a file arrived damaged.",
  "wasm-forbidden": () => "the security policy of this website, or of your browser, forbids WebAssembly.",
  "worker-forbidden": () => "the security policy of this website, or of your browser, forbids the worker it runs in.",
  slow: () => "its files have not arrived in time. The connection may be too slow, or gone.",
  stuck: () => "it gave no sign of life in time.",
  start: (detail) => `${detail}.`,
  crashed: (detail) => `its worker ended (${detail}).`,
};

export const reset = {
  undo: "Undo: bring my values back",
};

export const offline = {
  none: "",
  folder: "This is your own copy of the guide: it needs no network.",
  insecure: "This address can't keep an offline copy in your browser (that needs https). Take the guide with you as a zip.",
  unable: "This browser can't keep an offline copy. Take the guide with you as a zip.",
  storing: (bytes) => `Putting ${megabytes(bytes)} aside for offline use.`,
  ready: (bytes, edition) => `Ready for offline use: ${megabytes(bytes)}, edition of ${edition}.`,
  offer: (bytes) => `This guide can be kept for offline use: ${bytes ? megabytes(bytes) : "about 20 MB"}.`,
  keep: "Keep it offline",
  full: "There is no room on this device for an offline copy. The guide works while you are connected; the zip may fit elsewhere.",
  forbidden: "Your browser's settings forbid keeping an offline copy. The guide works while you are connected.",
  failed: "The offline copy could not be completed. The guide works while you are connected, and the copy is tried again at your next visit.",
  remove: "Remove the offline copy",
  removed: "The offline copy is removed.",
  update: "A new edition is here.",
  accept: "Use it now",
};
