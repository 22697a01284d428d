import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { LEAST_BEAT_SECONDS, playedAlongDelay } from "../../../core/delay/played-along-delay.ts";
import { seconds } from "../../../core/units.ts";

/** Eight beats at 75 a minute, [calc] 0.8 s apart. */
const BEATS = Array.from({ length: 8 }, (_, n) => seconds(10 + 0.8 * n));
const late = (...by: number[]) => by.map((one, n) => seconds((BEATS[n] ?? 0) + one));

describe("the delay from playing along", () => {
  test("beats at 75 a minute are far enough apart", () => {
    expect(0.8).toBeGreaterThan(LEAST_BEAT_SECONDS);
  });

  test("is the middle of eight notes, with their spread", () => {
    const found = playedAlongDelay(BEATS, late(0.08, 0.1, 0.12, 0.1, 0.09, 0.11, 0.1, 0.1));
    expect(found).toMatchObject({ kind: "found", usedBeats: 8, beats: 8 });
    if (found.kind !== "found") return;
    expect(found.delaySeconds).toBeCloseTo(0.1, 9); // [calc] the middle of the sorted eight
    expect(found.spreadSeconds).toBeCloseTo(Math.sqrt(0.001 / 7), 9); // [calc] squares 4+4+1+1 of 0.01 s
  });

  test("leaves out one note far from the rest and one that was not played", () => {
    const onsets = late(0.1, 0.12, 0.11, 0.45, 0.1, 0.09, 0.11, 0.1).filter((_, n) => n !== 6);
    const found = playedAlongDelay(BEATS, onsets);
    expect(found).toMatchObject({ kind: "found", usedBeats: 6 });
    if (found.kind === "found") expect(found.delaySeconds).toBeCloseTo(0.1, 9); // [calc] 0.09 0.10 0.10 0.10 0.11 0.12
  });

  test("is found for any steady player from 30 ms early to wireless headphones, whatever else was heard once", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 300 }),
        fc.array(fc.integer({ min: -30, max: 30 }), { minLength: 8, maxLength: 8 }),
        fc.integer({ min: 0, max: 6000 }),
        (delayMs, wavers, strayMs) => {
          const onsets = [
            ...late(...wavers.map((waver) => (delayMs + waver) / 1000)),
            seconds(10 + strayMs / 1000),
          ];
          const found = playedAlongDelay(BEATS, onsets);
          if (found.kind !== "found") throw new Error(found.kind);
          // The middle of eight lies within what they waver, 30 ms.
          expect(Math.abs(found.delaySeconds - delayMs / 1000)).toBeLessThanOrEqual(0.0301);
        },
      ),
    );
  });

  test("a few notes are too few", () => {
    expect(playedAlongDelay(BEATS, late(0.1, 0.1, 0.1, 0.1))).toEqual({
      kind: "too few",
      usedBeats: 4,
      beats: 8,
    });
    expect(playedAlongDelay(BEATS, [])).toMatchObject({ kind: "too few", usedBeats: 0 });
  });

  test("notes all over the beats say nothing", () => {
    const onsets = late(0.02, 0.18, 0.03, 0.19, 0.02, 0.17, 0.05, 0.18);
    expect(playedAlongDelay(BEATS, onsets).kind).not.toBe("found");
  });

  test("who plays well ahead of the beat has no delay to tell, who plays a hair ahead has none", () => {
    expect(playedAlongDelay(BEATS, late(...Array(8).fill(-0.08)))).toMatchObject({ kind: "ahead" });
    expect(playedAlongDelay(BEATS, late(...Array(8).fill(-0.01)))).toMatchObject({ delaySeconds: 0 });
  });
});
