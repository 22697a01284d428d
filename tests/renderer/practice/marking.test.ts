import { act, cleanup, renderHook } from "@testing-library/react";
import { useSyncExternalStore } from "react";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { MarkingSettings } from "../../../core/score/mark-again.ts";
import { hz, milliseconds } from "../../../core/units.ts";
import { changesInWords } from "../../../renderer/practice/mark-again-words.ts";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import { type Marking, useMarking } from "../../../renderer/practice/use-marking.ts";
import { exerciseOf } from "../../support/drills.ts";
import { PretendWorld } from "./doubles.ts";

afterEach(cleanup);

const exercise = exerciseOf({ direction: "up" });
const HIGHER: MarkingSettings = {
  a4: hz(444),
  temperament: { kind: "equal" },
  latencyMs: milliseconds(0),
};
const AS_FIRST: MarkingSettings = { ...HIGHER, a4: hz(440) };

/** However busy the machine is. */
const soon = (holds: () => void) => vi.waitFor(holds, { timeout: 20_000 });

/** A recording marked and kept on a sheet that shows nothing, and what the sheet would be told. */
async function keptSheet() {
  const world = new PretendWorld(exercise);
  const session = new PracticeSession(exercise, world.services(), {
    latencyMs: 0,
    beatWhilePlaying: "heard" as const,
  });
  const { result } = renderHook(() =>
    useMarking(session, useSyncExternalStore(session.subscribe, session.getState)),
  );
  await act(() => session.markRecording("evening.wav", new ArrayBuffer(0)));
  const now = () => result.current;
  await soon(() => expect(now().state).toMatchObject({ keeping: { kind: "kept" } }));
  const mark = async (settings: MarkingSettings) => {
    await act(async () => now().markBy(settings));
    await soon(() => expect(now().remarking).toEqual({ kind: "idle" }));
  };
  const entry = async () => {
    const kept = await world.history.open("id-1");
    if (kept === null) throw new Error("nothing is kept");
    // Of the take what tells it from another: comparing every sample takes long.
    const { samples, sampleRateHz } = kept.take ?? { samples: new Float32Array(), sampleRateHz: 0 };
    return {
      ...kept,
      take: { sampleRateHz, length: samples.length, some: [...samples.subarray(200_000, 200_050)] },
    };
  };
  return { world, session, now, mark, entry };
}

const firstCents = ({ state }: Marking) =>
  state.kind === "marked" ? (state.attempt.marks[0]?.cents ?? Number.NaN) : Number.NaN;

describe("a kept take marked by other settings", () => {
  test("shows the other marks and says what was changed, and the history is as it was", async () => {
    const { now, mark, entry } = await keptSheet();
    const before = await entry();
    const cents = firstCents(now());
    await mark(HIGHER);
    expect(now().changed).toEqual({ words: "A 444 Hz instead of 440", kept: false, canKeep: true });
    expect(now().exercise.harp.a4).toBe(444);
    // [calc] 1200 log2(444/440) = 15.67 cents.
    expect(firstCents(now()) - cents).toBeCloseTo(-15.67, 1);
    expect(await entry()).toEqual(before);
  });

  test("replaces the kept marks on request, with take and time untouched, and gives them back", async () => {
    const { now, mark, entry } = await keptSheet();
    const before = await entry();
    await mark(HIGHER);
    await act(async () => now().keep());
    await soon(() => expect(now().changed).toMatchObject({ kept: true }));
    const after = await entry();
    expect(after.exercise.harp.a4).toBe(444);
    expect({ ...after, exercise: 0, attempt: 0 }).toEqual({ ...before, exercise: 0, attempt: 0 });
    await act(async () => now().goBack());
    await soon(() => expect(now().changed).toBeNull());
    expect(await entry()).toEqual(before);
  });

  test("by the settings it had first is as it was, unless others are in the history", async () => {
    const { now, mark } = await keptSheet();
    await mark(AS_FIRST);
    expect(now().changed).toBeNull();
    await mark(HIGHER);
    await act(async () => now().keep());
    await soon(() => expect(now().changed).toMatchObject({ kept: true }));
    await mark(AS_FIRST);
    expect(now().changed).toEqual({ words: "as at first", kept: false, canKeep: true });
  });

  test("is not written back where it was deleted meanwhile, and that is said", async () => {
    const { world, now, mark } = await keptSheet();
    await mark(HIGHER);
    await world.history.remove(["id-1"]);
    await act(async () => now().keep());
    await soon(() =>
      expect(now().remarking).toEqual({
        kind: "failed",
        words: "that attempt is no longer in the history",
      }),
    );
    expect(await world.history.list()).toEqual([]);
  });

  test("is gone with the next take", async () => {
    const { session, now, mark } = await keptSheet();
    await mark(HIGHER);
    await act(() => session.markRecording("second.wav", new ArrayBuffer(0)));
    await soon(() => expect(now().state.kind).toBe("marked"));
    expect(now().changed).toBeNull();
    expect(now().exercise).toBe(exercise);
  });
});

test("every change is named with its unit and what it was before", () => {
  expect(
    changesInWords(AS_FIRST, {
      a4: hz(442),
      temperament: { kind: "scheme", scheme: "just-sevenths" },
      latencyMs: milliseconds(35),
    }),
  ).toBe("A 442 Hz instead of 440, tuned just with pure sevenths instead of equal, delay 35 ms instead of 0");
  expect(changesInWords(AS_FIRST, AS_FIRST)).toBeNull();
});
