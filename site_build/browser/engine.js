// The page's side of the engine: one worker for all calculators of the page. It fetches, starts and
// watches the worker, and hands over requests one at a time.

import { addressOf, Missing, SIZE, textOf } from "./files.js";

const HELLO_LIMIT = 10_000; // ms for a worker to run at all
const FETCH_LIMIT = 180_000; // ms for the next file to arrive
const START_LIMIT = 60_000; // ms from the last file to the first answer, on a slow phone
const RUN_LIMIT = 10_000; // ms for one answer

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
  done = 0; // bytes of text that have arrived
  total = SIZE;

  #worker = null;
  #run = 0; // counts starts: what belongs to an earlier one is ignored
  #alarm;
  #pending = new Map(); // who asks -> the newest request, not yet sent
  #current = null; // the request that is being answered
  #asked = 0;
  #resting = []; // those to tell once nothing is asked
  #tell;

  /** @param {() => void} tell called whenever the stage or the progress has changed */
  constructor(tell) {
    this.#tell = tell;
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

  /** Wait until the engine is ready and all that was asked is answered. */
  rest() {
    return new Promise((resolve) => {
      this.#resting.push(resolve);
      this.#next();
    });
  }

  async #start(run) {
    this.done = 0;
    this.failure = null;
    this.#to("fetching");
    this.#limit(FETCH_LIMIT, "slow");
    const files = Object.fromEntries(ENGINE.files.map((file) => [file.name, file]));
    const worker = this.#fetch(run, files.worker).then((text) => this.#open(run, files.worker, text));
    worker.catch(() => {}); // told by those who wait for it below
    await Promise.all(
      ENGINE.files
        .filter(({ name }) => name !== "worker")
        .map(async (file) => {
          const text = await this.#fetch(run, file).catch((error) => withoutSnapshot(file, error));
          (await worker).postMessage({ file: file.name, text, bytes: file.bytes });
        }),
    );
    if (run === this.#run && this.stage === "fetching") {
      this.#to("starting");
      this.#limit(START_LIMIT, "stuck");
    }
  }

  async #fetch(run, file) {
    const text = await textOf(file);
    if (run === this.#run && this.stage === "fetching") {
      this.done += file.size;
      this.#limit(FETCH_LIMIT, "slow");
      this.#tell();
    }
    return text;
  }

  /** A running worker: from a Blob, or from the file itself where a policy forbids Blobs. */
  async #open(run, file, text) {
    const blob = URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
    const addresses = location.protocol === "file:" ? [blob] : [blob, addressOf(file)];
    for (const address of addresses) {
      const worker = await running(address);
      if (worker && run !== this.#run) {
        worker.terminate();
      }
      if (worker) {
        URL.revokeObjectURL(blob);
        this.#worker = worker;
        worker.onmessage = ({ data }) => run === this.#run && this.#hear(data);
        worker.onerror = (event) => {
          event.preventDefault();
          run === this.#run && this.#fail(new Failure("crashed", event.message ?? "no reason given"));
        };
        worker.postMessage({ start: { edition: ENGINE.edition } });
        return worker;
      }
    }
    throw new Failure("worker-forbidden");
  }

  #hear(message) {
    if (message.ready) {
      this.fromSnapshot = message.ready.snapshot;
      clearTimeout(this.#alarm);
      this.#to("ready");
      this.#next();
    } else if (message.failed) {
      this.#fail(new Failure(message.failed, message.detail));
    } else if (message.answer && message.answer === this.#current?.number) {
      const { asker, resolve } = this.#finish();
      // While a newer request of the same asker waits, this answer is out of date.
      resolve(this.#pending.has(asker) ? undefined : message.response);
      this.#next();
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
    this.#alarm = setTimeout(() => {
      this.#finish().reject(new Failure("stopped"));
      this.#restart();
    }, RUN_LIMIT);
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
    this.#tell();
  }
}

/** Without the snapshot the engine starts all the same, only later. */
function withoutSnapshot(file, error) {
  if (file.name === "snapshot") {
    return null;
  }
  throw error;
}

/** A worker that has said hello, or nothing. */
function running(address) {
  return new Promise((resolve) => {
    // The search of a page opened from a folder puts another Worker in the place of the browser's.
    const Native = self.bbNativeWorker ?? self.Worker;
    let worker;
    const give = (result) => {
      clearTimeout(timer);
      result || worker?.terminate();
      resolve(result);
    };
    const timer = setTimeout(give, HELLO_LIMIT);
    try {
      worker = new Native(address);
      worker.onmessage = () => give(worker);
      worker.onerror = (event) => {
        event.preventDefault();
        give();
      };
    } catch {
      give();
    }
  });
}
