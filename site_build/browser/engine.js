// The page's side of the engine: one worker for all calculators of the page. It fetches, starts and
// watches the worker, and hands over requests one at a time.

import { addressOf, FILES as files, forgetParts, hosted, isQuick, Line, Missing, sizeOf } from "./files.js";
import { unpack } from "./gzip.js";

/* global BOOT: the script of a worker's first moment, put here by the build */

const HELLO_LIMIT = 30_000; // ms for a worker to run at all, on a slow phone too
const FETCH_LIMIT = 180_000; // ms for the next part of a file to arrive
const REST = ["library", "packages"]; // what a start without the snapshot needs too
const SAVED = 5_000; // ms that a start from the snapshot is sooner, on a slow phone more
const SNAPSHOT_LIMIT = 3_000; // ms for the next part of the snapshot
const START_LIMIT = 60_000; // ms from the last file to the first answer, on a slow phone
const RUN_LIMIT = 10_000; // ms for one answer
const STEP = 250; // ms between two words on how far it is: each has the page laid out and painted
const SLOWER = 3; // where a device takes long to start Python, as many times of that

export class Failure extends Error {
  constructor(reason, detail) {
    super(reason);
    this.reason = reason;
    this.detail = detail;
  }
}

export class Engine {
  stage = "idle"; // then fetching, starting, ready; or failed
  failure = null;
  fromSnapshot = false;
  done = 0; // bytes that have arrived, of what is needed
  total = 0;
  interrupted = false; // whether parts of files are being tried again

  #worker = null;
  #whole = false; // whether only a whole worker runs here
  #lines = []; // what the files come by
  #first = []; // what every start needs
  #bringRest; // has library and packages come, once
  #run = 0; // counts starts: what belongs to an earlier one is ignored
  #alarm;
  #pending = new Map(); // who asks -> the newest request, not yet sent
  #current = null; // the request that is being answered
  #asked = 0;
  #told = 0; // when it was told how far it is
  #starting = 0; // ms that it took from the last file to the first answer
  #resting = []; // those to tell once nothing is asked
  #tell;

  /**
   * @param {() => void} tell called whenever the stage or the progress has changed
   * @param {() => boolean} loadAgain loads the page again with what is typed on it
   */
  constructor(tell, loadAgain) {
    this.#tell = tell;
    this.loadAgain = loadAgain;
    addEventListener("online", () => this.failure?.reason === "slow" && this.retry());
  }

  /** Start unless it runs or is about to; after a failure only a reader's `retry` starts it. */
  start() {
    if (this.stage === "idle") {
      const run = ++this.#run;
      this.#start(run).catch((error) => run === this.#run && this.#fail(error));
    }
  }

  retry() {
    if (this.stage === "failed") {
      this.#to("idle");
      this.start();
    }
  }

  /**
   * The response to a request. The newest request of each asker is the only one that counts:
   * `undefined` comes back for one that has been overtaken. Rejects with Failure.
   */
  ask(asker, request) {
    return new Promise((resolve, reject) => {
      this.#pending.get(asker)?.resolve(undefined);
      this.#pending.set(asker, { asker, request, resolve, reject });
      this.#next();
    });
  }

  /** Nobody waits for the answers any more that are asked for now. */
  forget() {
    this.#pending.forEach(({ resolve }) => resolve(undefined));
    this.#pending.clear();
  }

  /** Wait until the engine is ready and all that was asked is answered. */
  rest() {
    return new Promise((resolve) => {
      this.#resting.push(resolve);
      this.#next();
    });
  }

  async #start(run) {
    if (self.origin === "null" && location.protocol !== "file:") {
      throw new Failure(parent === self ? "shut-off" : "sandboxed"); // of no origin: the browser would refuse each of our files
    }
    this.done = 0;
    this.failure = null;
    this.interrupted = false;
    const line = this.#line(run);
    const arrived = ({ length }) => this.#arrived(run, length);
    const early = !this.#whole && (!hosted || isQuick(extra(), SAVED)); // the thread begins while its script comes
    const plain = early && hosted ? addressOf(files.worker.plain) : undefined;
    this.#first = plain ? ["guide", "wasm"] : ["worker", "guide", "wasm"];
    this.#fetching();
    const script = early ? undefined : unpacked(line.partsOf(files.worker, arrived));
    const worker = early ? this.#begun(run, plain) : script.then((code) => this.#opened(run, code));
    worker.catch(() => {}); // told by those who wait for it below
    await script; // by itself: all others come while its thread begins, which takes as long as they do
    if (run !== this.#run) {
      return;
    }
    const bring = (name, heed = arrived, by = line) => {
      const handed = async (part, index) => hand(await worker, files[name], await part, index);
      return Promise.all(by.partsOf(files[name], heed).map(handed));
    };
    const rest = once(() => Promise.all(REST.map((name) => bring(name))));
    this.#bringRest = rest;
    const first = Promise.all((early ? this.#first : ["guide", "wasm"]).map((name) => bring(name)));
    first.catch(() => {}); // waited for below
    const quick = await line.quickFor(extra(), SAVED);
    if (run !== this.#run) {
      return;
    }
    const snapshot = quick ? this.#snapshot(run, bring, arrived) : false;
    this.#fetching(...(snapshot ? ["snapshot"] : REST));
    await first;
    if (!(await snapshot)) {
      (await worker).postMessage({ drop: "snapshot" });
      await rest();
    }
    this.#arrivedAll(run);
  }

  /** Whether the snapshot came; not, once no part has come for a while: an ordinary start is sooner then. */
  #snapshot(run, bring, arrived) {
    return new Promise((resolve) => {
      const line = this.#line(run);
      let left = files.snapshot.parts.length;
      let alarm;
      const give = (came) => {
        clearTimeout(alarm);
        line.end();
        resolve(came);
      };
      const wait = () => {
        clearTimeout(alarm);
        alarm = setTimeout(give, SNAPSHOT_LIMIT, false);
      };
      const heed = (part) => {
        left -= 1;
        left ? wait() : clearTimeout(alarm);
        arrived(part);
      };
      wait();
      bring("snapshot", heed, line).then(() => give(true), () => give(false));
    });
  }

  /** Library and packages are wanted after all: the snapshot was no good, or something asks for one of their files. */
  async #more(run) {
    const ready = this.stage === "ready";
    ready || this.#fetching(...REST);
    this.#limit(FETCH_LIMIT, "slow");
    await this.#bringRest();
    if (run !== this.#run) {
      return;
    }
    if (ready) {
      forgetParts();
      this.#limitRun();
    } else {
      this.#arrivedAll(run);
    }
  }

  #line(run) {
    const line = new Line((interrupted) => this.#interrupt(run, interrupted));
    this.#lines.push(line);
    return line;
  }

  #fetching(...more) {
    this.total = sizeOf([...this.#first, ...more].map((name) => files[name]));
    this.#to("fetching");
    this.#limit(FETCH_LIMIT, "slow");
  }

  #arrivedAll(run) {
    if (run === this.#run && this.stage === "fetching") {
      this.#starting = performance.now();
      this.#to("starting");
      this.#limit(START_LIMIT, "stuck");
    }
  }

  #arrived(run, size) {
    if (run === this.#run && this.stage === "fetching") {
      this.done += size;
      this.#limit(FETCH_LIMIT, "slow");
      if (performance.now() - this.#told > STEP) {
        this.#told = performance.now();
        this.#tell();
      }
    }
  }

  #interrupt(run, is) {
    if (run === this.#run && is !== this.interrupted) {
      this.interrupted = is;
      this.#tell();
    }
  }

  /** A worker whose rest is still to come; files may be handed to it at once. */
  async #begun(run, rest) {
    const { worker, runs } = asked(blobOf(BOOT), HELLO_LIMIT, rest ? { name: rest } : {});
    runs.then((does) => does || run !== this.#run || this.#again());
    if (!worker) {
      throw new Failure("worker-forbidden");
    }
    return this.#use(run, worker);
  }

  /** Once more, with a worker that is whole from its first moment. */
  #again() {
    this.#whole = true;
    this.#restart();
  }

  /** A running worker: from a Blob, or from a file of its own where a policy forbids Blobs. */
  async #opened(run, script) {
    const ways = [[blobOf(script), HELLO_LIMIT]];
    if (hosted) {
      ways.push([addressOf(files.worker.plain), FETCH_LIMIT]);
    }
    for (const [address, limit] of ways) {
      const { worker, runs } = asked(address, limit);
      if (await runs) {
        return this.#use(run, worker);
      }
    }
    throw new Failure("worker-forbidden");
  }

  #use(run, worker) {
    if (run !== this.#run) {
      worker.terminate();
      return worker;
    }
    this.#worker = worker;
    worker.addEventListener("message", ({ data }) => run === this.#run && this.#hear(data));
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      run === this.#run && this.#fail(new Failure("crashed", event.message ?? "no reason given"));
    });
    worker.postMessage({ start: { edition: ENGINE.edition, shown: shown() } });
    return worker;
  }

  #hear(message) {
    if (message.refused) {
      this.#again();
    } else if (message.want) {
      const run = this.#run;
      this.#more(run).catch((error) => run === this.#run && this.#fail(error));
    } else if (message.ready) {
      this.fromSnapshot = message.ready.snapshot;
      this.#starting = performance.now() - this.#starting;
      forgetParts();
      clearTimeout(this.#alarm);
      this.#to("ready");
      this.#next();
    } else if (message.failed) {
      this.#fail(new Failure(message.failed, message.detail));
    } else if (message.answer && message.answer === this.#current?.number) {
      const { asker, resolve } = this.#finish();
      // While a newer request of the same asker waits, this answer is out of date.
      resolve(this.#pending.has(asker) ? undefined : message.response);
      // Who has an answer may ask for the rest of it: only then is nothing asked any more.
      this.#pending.size ? this.#next() : setTimeout(() => this.#next());
    } else if (message.fault && message.fault === this.#current?.number) {
      this.#finish().reject(new Failure("stumbled", message.detail));
      message.fatal ? this.#restart() : this.#next();
    }
  }

  #next() {
    if (this.stage !== "ready" || this.#current) {
      return;
    }
    if (!this.#pending.size) {
      this.#resting.splice(0).forEach((tell) => tell());
      return;
    }
    const [asker, asked] = this.#pending.entries().next().value;
    this.#pending.delete(asker);
    this.#asked += 1;
    this.#current = { ...asked, number: this.#asked };
    this.#worker.postMessage({ ask: this.#asked, request: asked.request });
    this.#limitRun();
  }

  #limitRun() {
    clearTimeout(this.#alarm);
    this.#alarm = setTimeout(() => {
      this.#finish().reject(new Failure("stopped"));
      this.#restart();
    }, Math.max(RUN_LIMIT, SLOWER * this.#starting));
  }

  #finish() {
    clearTimeout(this.#alarm);
    const finished = this.#current;
    this.#current = null;
    return finished;
  }

  #restart() {
    this.#stop();
    this.#to("idle");
    this.start();
  }

  #stop() {
    clearTimeout(this.#alarm);
    this.#run += 1;
    this.#lines.splice(0).forEach((line) => line.end());
    this.#worker?.terminate();
    this.#worker = null;
  }

  /** The first cause is the one that is told. */
  #fail(error) {
    if (this.stage === "failed") {
      return;
    }
    this.#stop();
    this.failure = error instanceof Missing || error instanceof Failure ? error : new Failure("start", String(error));
    this.failure.reason === "damaged" && forgetParts({ damaged: true });
    this.#current && this.#finish().reject(this.failure);
    this.#to("failed");
  }

  #limit(time, reason) {
    clearTimeout(this.#alarm);
    this.#alarm = setTimeout(() => this.#fail(new Failure(reason)), time);
  }

  #to(stage) {
    this.stage = stage;
    performance.mark(`brinebook:${stage}`);
    dispatchEvent(new Event(`brinebook:${stage}`));
    this.#tell();
  }
}

/** The worker's script out of its parts; rejects with what hinders it first. */
async function unpacked(parts) {
  const whole = await Promise.all(parts);
  return unpack(whole, files.worker.bytes).catch((error) => {
    throw new Failure("damaged", String(error));
  });
}

/** A copy of a file's part, which is then the worker's alone; ours is for another try. */
function hand(worker, { name, parts: { length: count }, bytes }, part, index) {
  const copy = part.slice();
  worker.postMessage({ file: name, index, part: copy, count, bytes }, [copy.buffer]);
}

function blobOf(script) {
  return URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
}

/** How much more comes with the snapshot than without it [bytes]. */
function extra() {
  return files.snapshot.size - sizeOf(REST.map((name) => files[name]));
}

/** What the page's own calculators would be asked as they were built. */
function shown() {
  const all = [...document.querySelectorAll("[data-calculator]")].map(({ dataset }) => dataset);
  return JSON.stringify(all.map(({ calculator, example }) => ({ calculator, example: JSON.parse(example || "{}") })));
}

function once(act) {
  let made;
  return () => (made ??= act());
}

/** A worker, and whether it says hello in time; if not, it is no more. */
function asked(address, limit, settings) {
  let worker;
  const runs = new Promise((resolve) => {
    setTimeout(resolve, limit, false);
    // The search of a page opened from a folder puts another Worker in the place of the browser's.
    const Native = self.bbNativeWorker ?? self.Worker;
    try {
      worker = new Native(address, settings);
      worker.addEventListener("message", () => resolve(true), { once: true });
      worker.addEventListener("error", (event) => {
        event.preventDefault();
        resolve(false);
      });
    } catch {
      resolve(false);
    }
  });
  runs.then((does) => {
    does || worker?.terminate();
    address.startsWith("blob:") && URL.revokeObjectURL(address);
  });
  return { worker, runs };
}
