import { Worker } from "node:worker_threads";
import { type Found, PHASES, SHARED, type Tally, type Told, type Trial } from "./trial.ts";

/** What one input may take of the processor: other work on the machine does not count. */
const MOST_SECONDS: Readonly<Record<(typeof PHASES)[number], number>> = {
  making: 20,
  reading: 2,
  comparing: 20,
  commanding: 20,
};
const LOOK_EVERY_MS = 50;
const MOST_HEAP_MB = 1000;

export interface Run {
  readonly tallies: ReadonlyMap<string, Tally>;
  readonly hangs: number;
  readonly mostMemoryMB: number;
}

/**
 * Tries inputs in a worker and goes on in a new one where one hangs, runs out of memory or falls over.
 *
 * @param onFound told of everything found
 * @param onNext  told the number of the input that comes next, now and then
 */
export async function watchedRun(
  script: string,
  trial: Trial,
  onFound: (found: Found) => void,
  onNext: (next: number) => void,
): Promise<Run> {
  const tallies = new Map<string, Tally>();
  let hangs = 0;
  let mostBytes = 0;
  let next = trial.from;
  while (next < trial.to) {
    const shared = new Int32Array(new SharedArrayBuffer(4 * SHARED.words));
    const ended = await oneWorker(script, { ...trial, from: next }, shared, {
      onFound,
      onMemory: (bytes) => {
        mostBytes = Math.max(mostBytes, bytes);
      },
      onDone: (told) => {
        for (const [name, tally] of Object.entries(told.tallies))
          tallies.set(name, sum(tallies.get(name), tally));
        onNext(told.next);
      },
    });
    if (ended === null) break;
    if (ended.isHang) hangs += 1;
    onFound({ reader: "", input: ended.input, what: ended.what });
    next = ended.input + 1;
  }
  return { tallies, hangs, mostMemoryMB: Math.round(mostBytes / 1e6) };
}

interface Listeners {
  readonly onFound: (found: Found) => void;
  readonly onMemory: (bytes: number) => void;
  readonly onDone: (told: Extract<Told, { kind: "done" }>) => void;
}

interface Fallen {
  readonly input: number;
  readonly what: string;
  readonly isHang: boolean;
}

/** @returns null where all inputs were tried, else the one that ended it */
function oneWorker(script: string, trial: Trial, shared: Int32Array, on: Listeners): Promise<Fallen | null> {
  return new Promise((resolve) => {
    const worker = new Worker(script, {
      workerData: { trial, shared },
      resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MB },
    });
    const end = (fallen: Fallen | null) => {
      clearInterval(looking);
      worker.removeAllListeners();
      worker.on("error", () => {});
      void worker.terminate().then(() => resolve(fallen));
    };
    const at = () => Atomics.load(shared, SHARED.input);
    const hanging = watchHang(shared);
    const looking = setInterval(() => {
      on.onMemory(process.memoryUsage.rss());
      const what = hanging();
      if (what !== null) end({ input: at(), what, isHang: true });
    }, LOOK_EVERY_MS);
    worker.on("message", (told: Told) => {
      if (told.kind === "found") on.onFound(told.found);
      else on.onDone(told);
    });
    worker.on("error", (error) =>
      end({ input: at(), what: `ended the thread: ${error.message}`, isHang: false }),
    );
    worker.on("exit", (code) =>
      end(code === 0 ? null : { input: at(), what: `ended the thread with ${code}`, isHang: false }),
    );
  });
}

/** @returns what says, whenever it is asked, that one step takes longer than it may */
function watchHang(shared: Int32Array): () => string | null {
  let last = "";
  let since = process.cpuUsage();
  return () => {
    const phase = PHASES[Atomics.load(shared, SHARED.phase)] ?? "making";
    const now = `${Atomics.load(shared, SHARED.input)} ${phase}`;
    if (now !== last) {
      last = now;
      since = process.cpuUsage();
      return null;
    }
    const { user, system } = process.cpuUsage(since);
    const seconds = (user + system) / 1e6;
    return seconds > MOST_SECONDS[phase] ? `${phase} took more than ${MOST_SECONDS[phase]} s` : null;
  };
}

function sum(a: Tally | undefined, b: Tally): Tally {
  if (a === undefined) return b;
  const slower = b.slowestSeconds > a.slowestSeconds ? b : a;
  return {
    inputs: a.inputs + b.inputs,
    read: a.read + b.read,
    refused: a.refused + b.refused,
    commands: a.commands + b.commands,
    slowestSeconds: slower.slowestSeconds,
    slowestInput: slower.slowestInput,
  };
}
