import { describe, expect, test } from "vitest";
import type { ArchiveAsk, ArchiveReport } from "../../../renderer/archive/archive-messages.ts";
import { createArchiveWork } from "../../../renderer/archive/archive-work.ts";
import type { Sink } from "../../../renderer/archive/sink.ts";

/** A worker whose answers the test gives. */
class PretendWorker {
  readonly asked: ArchiveAsk[] = [];
  ended = false;
  onmessage: ((event: { readonly data: ArchiveReport }) => void) | null = null;
  onerror: ((event: { readonly message: string }) => void) | null = null;
  postMessage = (ask: ArchiveAsk) => void this.asked.push(ask);
  terminate = () => {
    this.ended = true;
  };
  says = (data: ArchiveReport) => this.onmessage?.({ data });
}

function pretend() {
  const worker = new PretendWorker();
  const put: number[] = [];
  const done: string[] = [];
  const sink: Sink = {
    add: async (bytes) => void put.push(bytes.length),
    finish: async () => {
      done.push("finished");
      return { kind: "saved", name: "a.gz" };
    },
    abandon: async () => void done.push("abandoned"),
  };
  return { worker, sink, put, done, work: createArchiveWork(() => worker as unknown as Worker) };
}

const piece = (length: number): ArchiveReport => ({ kind: "piece", bytes: new Uint8Array(length) });
const settled = () => new Promise((resolve) => setTimeout(resolve, 0));

describe("saving an archive off the window's thread", () => {
  test("asks for the next piece only once the last was put away, and finishes at the end", async () => {
    const { worker, sink, put, done, work } = pretend();
    const shares: number[] = [];
    const saving = work.save(true, sink, { onProgress: (share) => shares.push(share) });
    expect(worker.asked).toEqual([{ kind: "archive", withTakes: true }]);
    worker.says({ kind: "progress", share: 0.5 });
    worker.says(piece(7));
    expect(worker.asked).toHaveLength(1);
    await settled();
    expect(worker.asked).toHaveLength(2);
    expect(worker.asked[1]).toEqual({ kind: "next piece" });
    worker.says({ kind: "all" });
    expect(await saving).toEqual({ kind: "saved", name: "a.gz" });
    expect([put, shares, done, worker.ended]).toEqual([[7], [0.5], ["finished"], true]);
  });

  test("stopped ends the worker and leaves nothing", async () => {
    const { worker, sink, done, work } = pretend();
    const stop = new AbortController();
    const saving = work.save(false, sink, { signal: stop.signal });
    worker.says(piece(7));
    stop.abort();
    await expect(saving).rejects.toThrow("stopped");
    expect([done, worker.ended]).toEqual([["abandoned"], true]);
  });

  test("a piece that cannot be put away, a failure and a worker that breaks leave nothing and are told", async () => {
    const full = pretend();
    full.sink.add = async () => {
      throw new Error("The disk is full.");
    };
    const saving = full.work.save(true, full.sink, {});
    full.worker.says(piece(7));
    await expect(saving).rejects.toThrow("The disk is full.");
    expect([full.done, full.worker.ended]).toEqual([["abandoned"], true]);

    const failing = pretend();
    const table = failing.work.saveTable("notes", {}, failing.sink, {});
    failing.worker.says({ kind: "failed", reason: "a newer version of this program wrote the history" });
    await expect(table).rejects.toThrow("a newer version");
    expect(failing.done).toEqual(["abandoned"]);

    const broken = pretend();
    const looking = broken.work.look(new Blob([]), {});
    broken.worker.onerror?.({ message: "no such file" });
    await expect(looking).rejects.toThrow("no such file");
    expect(broken.worker.ended).toBe(true);
  });

  test("what was stopped before it began starts no worker", async () => {
    const { worker, work } = pretend();
    const bringing = work.bringIn(new Blob([]), { theirs: false }, { signal: AbortSignal.abort() });
    await expect(bringing).rejects.toThrow("stopped");
    expect(worker.asked).toEqual([]);
  });
});
