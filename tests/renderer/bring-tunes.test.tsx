// @vitest-environment happy-dom
import { act, renderHook } from "@testing-library/react";
import { expect, test } from "vitest";
import { useTunes } from "../../renderer/app/use-tunes.ts";
import { MemoryTuneStore } from "../../renderer/store/memory-tune-store.ts";
import type { KeptTune } from "../../renderer/store/tune-store.ts";
import { kept } from "../../renderer/tunes/import-tunes.ts";
import { readText } from "../../renderer/tunes/read-text.ts";
import type { TuneWork } from "../../renderer/tunes/tune-work.ts";

const tuneOf = (title: string): KeptTune => {
  const [read] = readText(`X:1\nT:${title}\nM:4/4\nL:1/8\nK:D\nDEFA d2A2|\n`).tunes;
  if (read === undefined) throw new Error("the tune can be read");
  return kept(read.tune, read.abc, "autumn.abc");
};
const [OLD, NEW] = [tuneOf("Our Own, Kept Before"), tuneOf("Our Own, from the File")];

/** A reader that hands over both tunes, and then ends as it is told. */
const reader = (end: (signal: AbortSignal) => Promise<void>): TuneWork =>
  ({
    importFile: async (_name, _bytes, _choices, onSome, signal) => {
      await onSome({ kind: "some", tunes: [OLD, NEW], leftOut: [], done: 2, of: 2 });
      await end(signal);
    },
  }) as Partial<TuneWork> as TuneWork;

async function brought(isListOpen: boolean, end: (signal: AbortSignal) => Promise<void>, stops: boolean) {
  const store = new MemoryTuneStore();
  await store.keep([OLD]);
  const hook = renderHook(() => useTunes(store, reader(end), isListOpen));
  await act(async () => {
    const done = hook.result.current.bring(new File(["X:1\n"], "autumn.abc"));
    await new Promise((resolve) => setTimeout(resolve, 20));
    if (stops) hook.result.current.stopBringing();
    await done;
  });
  return { ended: hook.result.current.bringing?.ended, ids: (await store.list()).map(({ id }) => id).sort() };
}

const untilStopped = (signal: AbortSignal) =>
  new Promise<void>((_, reject) =>
    signal.addEventListener("abort", () => reject(new DOMException("stopped", "AbortError"))),
  );

test.each([true, false])(
  "a file that is stopped, or breaks off, takes with it nothing that was there before (list open: %j)",
  async (isListOpen) => {
    const stopped = await brought(isListOpen, untilStopped, true);
    expect(stopped).toEqual({
      ended: { words: "Stopped: nothing was brought in.", leftOut: [] },
      ids: [OLD.id],
    });
    const failing = async () => {
      throw new Error("no room left");
    };
    const broken = await brought(isListOpen, failing, false);
    expect(broken).toEqual({ ended: { words: "No room left.", leftOut: [] }, ids: [OLD.id] });
    const whole = await brought(isListOpen, async () => {}, false);
    expect(whole).toEqual({
      ended: { words: "2 tunes brought in.", leftOut: [] },
      ids: [OLD.id, NEW.id].sort(),
    });
  },
);
