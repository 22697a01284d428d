import { expect, test } from "vitest";
import { isNoProgress, oneJob } from "../../renderer/jobs/one-job.ts";

type Report =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "counted"; readonly count: number }
  | { readonly kind: "failed"; readonly reason: string };

/** A worker that does nothing by itself. */
class StillWorker {
  posted: unknown[] = [];
  isEnded = false;
  onmessage: ((event: { data: Report }) => void) | null = null;
  onerror: ((event: { message: string }) => void) | null = null;
  postMessage(job: unknown) {
    this.posted.push(job);
  }
  terminate() {
    this.isEnded = true;
  }
}

function begun(signal?: AbortSignal) {
  const worker = new StillWorker();
  const shares: number[] = [];
  const start = () => worker as unknown as Worker;
  const answer = oneJob(start, "count", isNoProgress<Report>, {
    signal,
    onMeanwhile: ({ share }) => shares.push(share),
  });
  return { worker, shares, answer, say: (data: Report) => worker.onmessage?.({ data }) };
}

test("a job is posted once, tells how far it is, and its worker ends with the answer", async () => {
  const { worker, shares, answer, say } = begun();
  expect(worker.posted).toEqual(["count"]);
  say({ kind: "progress", share: 0.5 });
  expect(worker.isEnded).toBe(false);
  say({ kind: "counted", count: 3 });
  expect(await answer).toEqual({ kind: "counted", count: 3 });
  expect(shares).toEqual([0.5]);
  expect(worker.isEnded).toBe(true);
});

test("a job that fails says why, in the worker's words or the browser's", async () => {
  const failing = begun();
  failing.say({ kind: "failed", reason: "nothing to count" });
  await expect(failing.answer).rejects.toThrow("nothing to count");
  const broken = begun();
  broken.worker.onerror?.({ message: "no such file" });
  await expect(broken.answer).rejects.toThrow("no such file");
  expect([failing.worker.isEnded, broken.worker.isEnded]).toEqual([true, true]);
});

test("a job that is stopped ends its worker; one stopped before has none", async () => {
  const stop = new AbortController();
  const { worker, answer } = begun(stop.signal);
  stop.abort();
  await expect(answer).rejects.toMatchObject({ name: "AbortError" });
  expect(worker.isEnded).toBe(true);
  const late = begun(stop.signal);
  await expect(late.answer).rejects.toMatchObject({ name: "AbortError" });
  expect(late.worker.posted).toEqual([]);
});
