import type { SaveResult } from "../../electron/bridge.ts";
import type { AttemptFilter, LongWork } from "../store/history-store.ts";
import ArchiveWorker from "./archive.worker.ts?worker";
import type { ArchiveAsk, ArchiveJob, ArchiveReport } from "./archive-messages.ts";
import type { BringWish, Brought } from "./bring-in.ts";
import type { Look } from "./look-at-archive.ts";
import type { Sink } from "./sink.ts";
import type { TableOf } from "./table-texts.ts";

/** Archives and tables of the browser's database, off the window's thread. What is aborted rejects with an AbortError. */
export interface ArchiveWork {
  save(withTakes: boolean, sink: Sink, work: LongWork): Promise<SaveResult>;
  saveTable(of: TableOf, filter: AttemptFilter, sink: Sink, work: LongWork): Promise<SaveResult>;
  look(file: Blob, work: LongWork): Promise<Look>;
  /** Stopping ends the worker: what it was writing then is left as it was, what it wrote before is whole. */
  bringIn(file: Blob, wish: BringWish, work: LongWork): Promise<Brought>;
}

type Answer = Exclude<ArchiveReport, { readonly kind: "progress" | "piece" | "failed" }>;

export function createArchiveWork(start: () => Worker = () => new ArchiveWorker()): ArchiveWork {
  const intoSink = async (job: ArchiveJob, sink: Sink, work: LongWork): Promise<SaveResult> => {
    try {
      await answer(start, job, work, (bytes) => sink.add(bytes));
    } catch (error) {
      await sink.abandon();
      throw error;
    }
    return sink.finish();
  };
  return {
    save: (withTakes, sink, work) => intoSink({ kind: "archive", withTakes }, sink, work),
    saveTable: (of, filter, sink, work) => intoSink({ kind: "table", of, filter }, sink, work),
    look: async (file, work) => {
      const report = await answer(start, { kind: "look", file }, work);
      if (report.kind !== "looked") throw new Error(`the reader answered "${report.kind}"`);
      return report.look;
    },
    bringIn: async (file, wish, work) => {
      const report = await answer(start, { kind: "bring in", file, wish }, work);
      if (report.kind !== "brought") throw new Error(`the reader answered "${report.kind}"`);
      return report.brought;
    },
  };
}

/** One job, one worker. */
function answer(
  start: () => Worker,
  job: ArchiveJob,
  { onProgress, signal }: LongWork,
  onPiece: (bytes: Uint8Array<ArrayBuffer>) => Promise<void> = async () => {},
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    if (signal?.aborted) return reject(new DOMException("stopped", "AbortError"));
    const worker = start();
    const ask = (message: ArchiveAsk) => worker.postMessage(message);
    const end = () => {
      worker.terminate();
      signal?.removeEventListener("abort", abort);
    };
    const fail = (error: unknown) => {
      end();
      reject(error);
    };
    const abort = () => fail(new DOMException("stopped", "AbortError"));
    signal?.addEventListener("abort", abort);
    worker.onmessage = ({ data }: MessageEvent<ArchiveReport>) => {
      if (data.kind === "progress") return onProgress?.(data.share);
      if (data.kind === "piece")
        return void onPiece(data.bytes).then(() => ask({ kind: "next piece" }), fail);
      if (data.kind === "failed") return fail(new Error(data.reason));
      end();
      resolve(data);
    };
    worker.onerror = ({ message }) => fail(new Error(message));
    ask(job);
  });
}
