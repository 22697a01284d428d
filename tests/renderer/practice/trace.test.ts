import { describe, expect, test } from "vitest";
import { onsetOf } from "../../../core/exercise/exercise.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import type { Attempt } from "../../../core/score/attempt.ts";
import { scoreTake, USUAL_SETTINGS } from "../../../core/score/score-take.ts";
import type { Plant } from "../../../core/simulate/plants.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { cents, hz, midi, milliseconds, seconds } from "../../../core/units.ts";
import { barAround, placeNotes, secondsOf } from "../../../renderer/practice/placed-notes.ts";
import { pathOf, traceLines } from "../../../renderer/practice/trace-lines.ts";
import { drawnSpan, firstZoom, zoomed } from "../../../renderer/practice/trace-scale.ts";
import { exerciseOf } from "../../support/drills.ts";

const exercise = exerciseOf();
const PLANTS: readonly Plant[] = [
  { kind: "wrong", index: 2, midi: midi(81) },
  { kind: "missed", index: 4 },
  { kind: "pitch", index: 8, offsetCents: cents(-30) },
  { kind: "time", index: 10, offsetMs: milliseconds(60) },
];
const take = simulateTake(exercise, { seed: 4, plants: PLANTS, sampleRateHz: 48_000 });
const listening = listenToTake(take.samples, take.sampleRateHz);
const attempt = scoreTake(exercise, listening);
const placed = placeNotes(exercise, attempt);
/** [calc] four crotchets of count-in at 90. */
const ZERO = (4 * 60) / 90;

describe("where notes belong in their take", () => {
  test("on the beat, late, wrong and missed ones alike", () => {
    expect(placed).toHaveLength(15);
    for (const { note, atSeconds } of placed) {
      // 1 ms: the beat is known exactly, and the place is the onset less its own error.
      expect(Math.abs(atSeconds - ZERO - onsetOf(exercise, note)), `note ${note.index}`).toBeLessThan(0.001);
    }
  });

  test("a measured delay moves all of them by it", () => {
    const delayed = scoreTake(exercise, listening, {
      ...USUAL_SETTINGS,
      latencyMs: milliseconds(30),
      beatZeroSeconds: seconds(ZERO),
    });
    for (const { note, atSeconds } of placeNotes(exercise, delayed))
      expect(Math.abs(atSeconds - ZERO - 0.03 - onsetOf(exercise, note))).toBeLessThan(0.001);
  });

  test("at the player's own pace where they were heard, the missed one between its neighbours", () => {
    const own = placeNotes(exercise, scoreTake(exercise, listening, { ...USUAL_SETTINGS, way: "own pace" }));
    expect(own[10]?.atSeconds).toBe(own[10]?.mark.onSeconds);
    const [before = 0, missed = 0, after = 0] = [3, 4, 5].map((index) => own[index]?.atSeconds);
    // 30 ms: the pace is one number for the whole take.
    expect(Math.abs(missed - (before + after) / 2)).toBeLessThan(0.03);
  });

  test("a take of silence has every note where the count-in puts it, in order", () => {
    const silent = scoreTake(exercise, listenToTake(new Float32Array(48_000 * 16), 48_000));
    const places = placeNotes(exercise, silent).map(({ atSeconds }) => atSeconds);
    expect(places[0]).toBeCloseTo(ZERO, 6);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  test("what was left out at a skip lies no later than where the player went on", () => {
    const marks = attempt.marks.map((mark) =>
      mark.index >= 5 && mark.index <= 9
        ? { ...mark, onSeconds: null, offSeconds: null, ms: null }
        : mark.index > 9
          ? { ...mark, onSeconds: seconds((mark.onSeconds ?? 0) - 4) }
          : mark,
    );
    const skipped: Attempt = { ...attempt, marks };
    const places = placeNotes(exercise, skipped).map(({ atSeconds }) => atSeconds);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places[9]).toBeLessThanOrEqual(places[10] ?? 0);
  });

  test("bars and spans are heard whole", () => {
    expect(barAround(placed, 5)).toEqual({ from: 4, to: 7 });
    expect(barAround(placed, 14)).toEqual({ from: 12, to: 14 });
    const { fromSeconds, toSeconds } = secondsOf(placed, { from: 5, to: 6 });
    expect(fromSeconds).toBeLessThan(placed[5]?.mark.onSeconds ?? 0);
    expect(toSeconds).toBeGreaterThanOrEqual(placed[6]?.mark.offSeconds ?? 0);
    expect(toSeconds).toBeLessThanOrEqual(placed[7]?.mark.onSeconds ?? 0);
  });
});

describe("the lines of the trace", () => {
  const lines = traceLines(exercise, listening, placed);

  test("lie on the target where a note was in tune, and where it was off by as much", () => {
    const middle = (index: number) => {
      const points = lines
        .filter((line) => line.index === index && !line.beyond)
        .flatMap(({ points }) => points);
      return points[points.length >> 1]?.cents ?? Number.NaN;
    };
    // 2 cents: single frames waver a little about the note's own pitch.
    expect(Math.abs(middle(0))).toBeLessThan(2);
    expect(Math.abs(middle(8) + 30)).toBeLessThan(2);
  });

  test("a wrong note lies at the edge and is marked so, a missed one has none", () => {
    const wrong = lines.filter((line) => line.index === 2);
    expect(wrong.some((line) => line.beyond && line.points.length > 20)).toBe(true);
    expect(wrong.flatMap((line) => line.points).every((point) => Math.abs(point.cents) <= 60)).toBe(true);
    expect(lines.filter((line) => line.index === 4)).toEqual([]);
  });

  test("a sound that leaps from far below to far above is not drawn across the target", () => {
    const frame = listening.frames.find(({ voiced }) => voiced);
    const note = placed[0];
    if (frame === undefined || note === undefined) throw new Error("nothing was heard");
    const from = note.mark.onSeconds ?? 0;
    const hzs = [440, 440, 880, 880];
    const leaping = {
      ...listening,
      frames: hzs.map((value, place) => ({
        ...frame,
        pitchHz: hz(value),
        atSeconds: seconds(from + 0.005 * (place + 1)),
      })),
    };
    // [calc] D5 is 587 Hz: A4 lies far below it, A5 far above.
    expect(traceLines(exercise, leaping, [note]).map(({ points }) => points.map((at) => at.cents))).toEqual([
      [-60, -60],
      [60, 60],
    ]);
  });

  test("are thinned to what the screen can show, and keep their ends", () => {
    const [line] = lines.filter((one) => one.points.length > 50);
    if (line === undefined) throw new Error("no line");
    const count = (perSecond: number) =>
      pathOf(
        line,
        (at) => perSecond * at,
        (off) => -off,
      ).split(/[ML]/).length - 1;
    expect(count(1000)).toBe(line.points.length);
    expect(count(50)).toBeLessThan(line.points.length / 2);
    const last = line.points.at(-1);
    expect(
      pathOf(
        line,
        (at) => 50 * at,
        (off) => off,
      ),
    ).toContain(`${(50 * (last?.atSeconds ?? 0)).toFixed(1)} ${last?.cents.toFixed(1)}`);
  });
});

test("zooming out ends where the whole take fits, zooming in where a note fills the window", () => {
  let perSecond = firstZoom(placed);
  // [calc] a crotchet at 90 lasts 2/3 s and is 80 pixels wide at first.
  expect(Math.abs(perSecond - 120)).toBeLessThan(1);
  for (let step = 0; step < 20; step++) perSecond = zoomed(perSecond, -1, 90);
  expect(perSecond).toBe(90);
  for (let step = 0; step < 20; step++) perSecond = zoomed(perSecond, 1, 90);
  expect(perSecond).toBe(1200);
});

test("what is drawn is the view and one as wide on either side", () => {
  // [calc] at 100 pixels a second a view of 1000 is 10 s.
  expect(drawnSpan(0, 1000, 100)).toEqual({ fromSeconds: 0, toSeconds: 20 });
  expect(drawnSpan(2500, 1000, 100)).toEqual({ fromSeconds: 10, toSeconds: 40 });
});
