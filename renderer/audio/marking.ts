import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Listening } from "../../core/listen/listening.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { ScoreSettings } from "../../core/score/score-take.ts";
import MarkingWorker from "./marking.worker.ts?worker";
import type { MarkingJob, MarkingReport } from "./marking-messages.ts";

/** Marking, off the window's thread. */
export interface Marking {
  mark(exercise: Exercise, listening: Listening, settings: ScoreSettings): Promise<Attempt>;
  /** Marks a made-up take: the first marks would come later than others otherwise. */
  rehearse(exercise: Exercise): Promise<void>;
}

type Wanted = { readonly resolve: (report: MarkingReport) => void; readonly reject: (error: Error) => void };
type Job = MarkingJob extends infer One ? (One extends MarkingJob ? Omit<One, "id"> : never) : never;

/** One worker for as long as the window is open: what it has run before it runs quickly. */
export function createMarking(): Marking {
  let worker: Worker | null = null;
  let count = 0;
  const waiting = new Map<number, Wanted>();
  const answer = (report: MarkingReport) => {
    const wanted = waiting.get(report.id);
    waiting.delete(report.id);
    if (report.kind === "failed") wanted?.reject(new Error(report.reason));
    else wanted?.resolve(report);
  };
  const fail = (reason: string) => {
    for (const { reject } of waiting.values()) reject(new Error(reason));
    waiting.clear();
    worker?.terminate();
    worker = null;
  };
  const start = () => {
    const made = new MarkingWorker();
    made.onmessage = ({ data }: MessageEvent<MarkingReport>) => answer(data);
    made.onerror = (event) => fail(event.message);
    return made;
  };
  const ask = (job: Job) =>
    new Promise<MarkingReport>((resolve, reject) => {
      worker ??= start();
      const id = ++count;
      waiting.set(id, { resolve, reject });
      worker.postMessage({ ...job, id });
    });
  return {
    mark: async (exercise, listening, settings) => {
      const report = await ask({ kind: "mark", exercise, listening, settings });
      if (report.kind !== "marked") throw new Error(`marking answered "${report.kind}"`);
      return report.attempt;
    },
    rehearse: async (exercise) => {
      await ask({ kind: "rehearse", exercise });
    },
  };
}
