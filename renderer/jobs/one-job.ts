/** What a worker says when it could not do the job. */
type Failed = { readonly kind: "failed"; readonly reason: string };

interface JobOptions<Report> {
  /** Ends the worker at once; the promise then rejects with an AbortError. */
  readonly signal?: AbortSignal | undefined;
  /** Goes over to the worker without a copy. */
  readonly given?: Transferable[];
  /** The longest the worker may say nothing; it is then given up. For ever, if not given. */
  readonly silentSeconds?: number;
  /** Told of everything the worker says before it is done. */
  readonly onMeanwhile?: (report: Report) => void;
}

/**
 * One job, one worker, off the window's thread: stopping is ending it, and so is being done.
 *
 * @param start makes the worker
 * @param job   posted to it
 * @param isLast whether what the worker says is the answer, and not told on the way to it
 * @returns the answer; rejects with an Error in the worker's words where it failed
 */
export function oneJob<Report extends { readonly kind: string }, Last extends Report>(
  start: () => Worker,
  job: unknown,
  isLast: (report: Report) => report is Last,
  { signal, given = [], silentSeconds, onMeanwhile }: JobOptions<Exclude<Report, Last | Failed>> = {},
): Promise<Exclude<Last, Failed>> {
  return new Promise((resolve, reject) => {
    if (signal?.aborted) return reject(new DOMException("stopped", "AbortError"));
    const worker = start();
    let waiting: ReturnType<typeof setTimeout> | undefined;
    const wait = () => {
      if (silentSeconds === undefined) return;
      clearTimeout(waiting);
      const reason = `nothing came of it for ${silentSeconds} seconds, the longest that is waited`;
      waiting = setTimeout(() => settle(() => reject(new Error(reason))), 1000 * silentSeconds);
    };
    const settle = (outcome: () => void) => {
      clearTimeout(waiting);
      worker.terminate();
      signal?.removeEventListener("abort", abort);
      outcome();
    };
    const abort = () => settle(() => reject(new DOMException("stopped", "AbortError")));
    signal?.addEventListener("abort", abort);
    worker.onmessage = ({ data }: MessageEvent<Report>) => {
      wait();
      if (isFailed(data)) settle(() => reject(new Error(data.reason)));
      else if (isLast(data)) settle(() => resolve(data as Exclude<Last, Failed>));
      else onMeanwhile?.(data as Exclude<Report, Last | Failed>);
    };
    worker.onerror = ({ message }) => settle(() => reject(new Error(message)));
    wait();
    worker.postMessage(job, given);
  });
}

const isFailed = (report: { readonly kind: string }): report is Failed => report.kind === "failed";

/** Reports that say how far the work is are on the way, all others are the answer. */
export const isNoProgress = <Report extends { readonly kind: string }>(
  report: Report,
): report is Exclude<Report, { readonly kind: "progress" }> => report.kind !== "progress";
