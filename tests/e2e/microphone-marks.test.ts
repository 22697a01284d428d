import { describe, expect, test } from "vitest";
import { countInSeconds, lengthOf, onsetOf } from "../../core/exercise/exercise.ts";
import { readExercise } from "../../core/exercise/exercise-json.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { knownReeds } from "../../core/score/known-reeds.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { exerciseOf } from "../support/drills.ts";
import { laterAround, type Piece, piecesOf, slipsBetween } from "./audio-pieces.ts";
import { chromiumPath, whyNoBrowser } from "./browser.ts";
import { oneBrowserEach } from "./hooks.ts";
import { keptAttempts, keptTake } from "./kept.ts";
import { microphoneTake, runMs } from "./takes.ts";

/** What a new visitor finds chosen: D mixolydian, second position on a G harp, crotchet = 90. */
const exercise = exerciseOf();

const { open } = oneBrowserEach();

describe.skipIf(chromiumPath === null)(
  `a take through the microphone of a real browser${whyNoBrowser}`,
  () => {
    test.each([21, 22])(
      "%d gets the same verdicts, pitches and times as the file scored without a window",
      async (seed) => {
        const take = microphoneTake(exercise, seed, true);
        const { page, complaints } = await open({ wavPath: take.wavPath });
        await page.getByRole("button", { name: "Practise this" }).waitFor();
        await page.keyboard.press("Enter");
        await page.getByRole("button", { name: /Start/ }).waitFor();
        await page.keyboard.press("Space");
        await page.getByText("Kept in the history.").waitFor({ timeout: runMs(exercise) });
        const [entry] = await keptAttempts(page);
        if (entry === undefined) throw new Error("nothing was kept");
        expect(entry.peak).toBeGreaterThan(0.05); // the microphone really heard the file
        const onFile = score(take.samples, take.sampleRateHz);
        const { samples, sampleRateHz } = await keptTake(page);
        expect(sampleRateHz).toBe(take.sampleRateHz);
        const guess = median(laters(entry.attempt, onFile).map(({ later }) => later));
        const pieces = piecesOf(samples, take.samples, sampleRateHz, guess);
        // The browser slips by whole buffers of its device, 10 ms; any other length would be this program's doing.
        for (const slip of slipsBetween(pieces)) expect(100 * slip).toBeCloseTo(Math.round(100 * slip), 6);
        const whole = wholeNotes(onFile, pieces, sampleRateHz);
        expect(whole.size).toBeGreaterThan(exercise.notes.length / 2);
        const ofWhole = (attempt: Attempt) => attempt.marks.filter(({ index }) => whole.has(index));
        expect(ofWhole(entry.attempt).map((mark) => mark.verdict)).toEqual(
          ofWhole(onFile).map((mark) => mark.verdict),
        );
        if (whole.size === exercise.notes.length) expectSameFindings(entry.attempt, onFile);
        // The same sound: each note within 2 cents and 5 ms, a frame of the listener, of what the file gives where the take's
        // own samples say that it lies. Frames are counted from the first sample: the file is cut to begin where the take does.
        const lag = Math.round((pieces[0]?.later ?? 0) * sampleRateHz);
        const onCut = score(beginningLater(take.samples, lag), sampleRateHz);
        for (const { index, later } of laters(entry.attempt, onCut)) {
          const sampled = whole.get(index);
          if (sampled === undefined) continue;
          const further = sampled - lag / sampleRateHz;
          expect(1000 * Math.abs(later - further)).toBeLessThan(5);
        }
        for (const mark of ofWhole(entry.attempt)) {
          const cents = onFile.marks[mark.index]?.cents ?? null;
          if (mark.cents !== null && cents !== null) expect(Math.abs(mark.cents - cents)).toBeLessThan(2);
        }
        expect(readExercise(JSON.stringify(entry.exercise)).kind).toBe("exercise");
        expect(complaints).toEqual([]);
      },
    );
  },
);

const score = (samples: Float32Array, sampleRateHz: number): Attempt =>
  scoreTake(exercise, listenToTake(samples, sampleRateHz, undefined, knownReeds(exercise.harp)));

/** The same sound so many samples later: silence before it, or its beginning cut off. */
function beginningLater(samples: Float32Array, lag: number): Float32Array {
  if (lag <= 0) return samples.subarray(-lag);
  const longer = new Float32Array(samples.length + lag);
  longer.set(samples, lag);
  return longer;
}

/** How much later the notes of one attempt were heard than those of the other, in seconds. */
function laters(one: Attempt, other: Attempt): { index: number; later: number }[] {
  return one.marks.flatMap(({ index, onSeconds }) => {
    const there = other.marks[index]?.onSeconds ?? null;
    return onSeconds === null || there === null ? [] : [{ index, later: onSeconds - there }];
  });
}

/** Room for what the listener looks at on both sides of a note: it searches onsets within 40 ms. */
const AROUND_SECONDS = 0.045;

/** The notes that no slip tore, and how much later their sound lies in the take than in the file, in seconds. */
function wholeNotes(onFile: Attempt, pieces: readonly Piece[], rate: number): ReadonlyMap<number, number> {
  return new Map(
    exercise.notes.flatMap((note) => {
      const { index } = note;
      const written = countInSeconds(exercise) + onsetOf(exercise, note);
      const on = onFile.marks[index]?.onSeconds ?? written;
      const off = onFile.marks[index]?.offSeconds ?? written + lengthOf(exercise, note);
      const later = laterAround(pieces, on - AROUND_SECONDS, off + AROUND_SECONDS, rate);
      return later === null ? [] : [[index, later] as const];
    }),
  );
}

/** What is told of the whole take is the same where nothing was torn. */
function expectSameFindings(one: Attempt, other: Attempt): void {
  expect(one.extras.map((extra) => extra.heardMidi)).toEqual(other.extras.map((extra) => extra.heardMidi));
  expect(one.faults.map((fault) => [fault.kind, fault.index])).toEqual(
    other.faults.map((fault) => [fault.kind, fault.index]),
  );
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;
}
