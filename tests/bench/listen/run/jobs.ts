import { isMainThread, parentPort, Worker } from "node:worker_threads";
import { makeTake, type PlannedTake, readTruth } from "../corpus/corpus.ts";
import { NOTHING_HEARD } from "../engines/answer.ts";
import { answerOf, type Engine } from "../engines/engine.ts";
import { scoreAnswer, type TakeScore } from "../measures/take-score.ts";
import { liveDelays } from "./live.ts";

/** A piece of work for a thread; one take each. */
export type Job =
  | { readonly kind: "make"; readonly take: PlannedTake }
  | { readonly kind: "listen"; readonly take: PlannedTake; readonly engine: Engine }
  | { readonly kind: "live"; readonly take: PlannedTake };

/** What became of it; `trouble` is one line, null where all went well. */
export interface Done {
  readonly job: Job;
  readonly trouble: string | null;
  readonly score: TakeScore | null;
  readonly liveMs: readonly number[];
}

async function work(job: Job): Promise<Done> {
  const nothing = { job, trouble: null, score: null, liveMs: [] };
  try {
    if (job.kind === "make") makeTake(job.take);
    if (job.kind === "live")
      return { ...nothing, liveMs: liveDelays(`${job.take.base}.wav`, readTruth(job.take)) };
    if (job.kind !== "listen") return nothing;
    return {
      ...nothing,
      score: scoreAnswer(readTruth(job.take), await answerOf(job.engine, `${job.take.base}.wav`)),
    };
  } catch (error) {
    const trouble = error instanceof Error ? (error.message.split("\n")[0] ?? "") : String(error);
    // An engine that fails on a take has heard nothing in it.
    const score = job.kind === "listen" ? scoreAnswer(readTruth(job.take), NOTHING_HEARD) : null;
    return { ...nothing, trouble, score };
  }
}

/** In a worker: does jobs as they come. */
export function serveJobs(): void {
  if (isMainThread || parentPort === null) throw new Error("this is no worker");
  const port = parentPort;
  port.on("message", async (job: Job) => port.postMessage(await work(job)));
}

/**
 * Does all jobs, several at a time.
 *
 * @param script what a worker runs: a module that calls `serveJobs`
 * @param onDone told of each as it is done, with how many are
 * @returns in the order of `jobs`
 */
export async function doJobs(
  jobs: readonly Job[],
  threads: number,
  script: URL,
  onDone: (done: Done, count: number) => void,
): Promise<Done[]> {
  const results: Done[] = [];
  let next = 0;
  let count = 0;
  const serve = async () => {
    const worker = new Worker(script);
    try {
      while (next < jobs.length) {
        const place = next++;
        const job = jobs[place];
        if (job === undefined) break;
        const done = await answered(worker, job);
        results[place] = done;
        onDone(done, ++count);
      }
    } finally {
      await worker.terminate();
    }
  };
  await Promise.all(Array.from({ length: Math.min(threads, jobs.length) }, serve));
  return results;
}

function answered(worker: Worker, job: Job): Promise<Done> {
  return new Promise((resolve, reject) => {
    const settled = (finish: () => void) => {
      worker.off("message", onMessage);
      worker.off("error", onError);
      finish();
    };
    const onMessage = (done: Done) => settled(() => resolve(done));
    const onError = (error: Error) => settled(() => reject(error));
    worker.on("message", onMessage);
    worker.on("error", onError);
    worker.postMessage(job);
  });
}
