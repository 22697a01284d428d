import { describe, expect, test } from "vitest";
import { countInSeconds, lengthOf, onsetOf } from "../../../core/exercise/exercise.ts";
import { withHoles } from "../../../core/listen/dropouts.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { exerciseOf } from "../../support/drills.ts";

const exercise = exerciseOf();
const RATE_HZ = 44_100;
const played = simulateTake(exercise, { seed: 5, plants: [], sampleRateHz: RATE_HZ });
const zero = countInSeconds(exercise);

/** The take with sound missing from a moment on, and the marks of it. */
function marksWithHole(fromSeconds: number, lengthSeconds: number) {
  const samples = Float32Array.from(played.samples);
  const [from, to] = [fromSeconds, fromSeconds + lengthSeconds].map((at) => Math.round(at * RATE_HZ));
  samples.fill(0, from, to);
  const listening = listenToTake(samples, RATE_HZ);
  return { listening, attempt: scoreTake(exercise, listening) };
}

const noteAt = (index: number) => {
  const note = exercise.notes[index];
  if (note === undefined) throw new Error(`no note ${index}`);
  return { from: zero + onsetOf(exercise, note), lasts: lengthOf(exercise, note) };
};

describe("where sound is missing from a take", () => {
  test("the take as it was played is right", () => {
    const { attempt } = marksWithHole(0, 0);
    expect(attempt.summary.notes).toMatchObject({ hit: exercise.notes.length, extra: 0 });
  });

  test.each([1, 4, 7, 10])(
    "a note that is gone (number %i) is not measured, and nobody is blamed",
    (index) => {
      const { from, lasts } = noteAt(index);
      const { listening, attempt } = marksWithHole(from - 0.1, lasts);
      expect(listening.holes).toHaveLength(1);
      expect(attempt.summary.notes).toMatchObject({ missed: 0, wrong: 0, extra: 0 });
      const mark = attempt.marks[index];
      // What is left of it, a tenth of a second, may be heard: it then has no time.
      expect(mark?.verdict === "not measured" || mark?.ms === null).toBe(true);
      expect(mark?.reason).toMatch(/^the sound broke off/);
    },
  );

  test.each([2, 5, 8])("a note (number %i) cut in two is one note", (index) => {
    const { from, lasts } = noteAt(index);
    const { attempt } = marksWithHole(from + lasts / 3, lasts / 4);
    expect(attempt.summary.notes).toMatchObject({ hit: exercise.notes.length, missed: 0, extra: 0 });
    expect(attempt.marks[index]?.ms).not.toBeNull();
  });

  test.each([3, 6, 9])("the beginning of note %i in a hole is in no measure of timing", (index) => {
    const { from } = noteAt(index);
    const { attempt } = marksWithHole(from - 0.08, 0.2);
    const whole = marksWithHole(0, 0).attempt;
    expect(attempt.marks[index]).toMatchObject({ verdict: "hit", ms: null, timing: null });
    expect(attempt.summary.notes.missed).toBe(0);
    // [calc] one onset fewer; the others stay within a few milliseconds of what they were.
    expect(attempt.summary.timing.measuredNotes).toBe(whole.summary.timing.measuredNotes - 1);
    expect(Number(attempt.summary.timing.spreadMs)).toBeLessThan(Number(whole.summary.timing.spreadMs) + 3);
  });

  test("samples that are known never to have come are a hole in a rest too, where zeros alone tell nothing", () => {
    const samples = new Float32Array(RATE_HZ);
    const listening = listenToTake(samples, RATE_HZ);
    expect(listening.holes).toBeUndefined();
    const hole = { fromSeconds: 0.2, toSeconds: 0.4 } as const;
    const known = [hole] as unknown as NonNullable<typeof listening.holes>;
    expect(withHoles(listening, samples, RATE_HZ, known).holes).toEqual([hole]);
  });

  test("the rests of a recording that was cut by a program are no holes", () => {
    // Faded notes with exact silence between them, as sound editors leave them.
    const samples = Float32Array.from({ length: 2 * RATE_HZ }, (_, n) => {
      const at = (n / RATE_HZ) % 0.5;
      return at < 0.3
        ? Math.min(1, at / 0.01, (0.3 - at) / 0.03) * 0.2 * Math.sin(2 * Math.PI * 440 * at)
        : 0;
    });
    expect(listenToTake(samples, RATE_HZ).holes).toBeUndefined();
  });
});
