import { describe, expect, test } from "vitest";
import { gaussian, seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { heardBeats } from "../../../../core/workshop/measure/heard-beats.ts";
import { settledStretch } from "../../../../core/workshop/measure/settled-stretch.ts";
import { walkSound } from "../../../support/walked-harp.ts";

const RATE = 24_000;
const OCTAVE = { over: 2, under: 1 };
const FIFTH = { over: 3, under: 2 };
const THIRD = { over: 5, under: 4 };

interface Sound {
  readonly seconds?: number;
  readonly db?: number;
  readonly snrDb?: number;
  readonly tremoloShare?: number;
}

/** Two reeds whose interval beats so often: [calc] high = (over x low + beats) / under. */
function heard(ratio: typeof OCTAVE, low: number, beats: number, sound: Sound = {}) {
  const { seconds = 3.5, db = -4, snrDb = 30, tremoloShare = 0 } = sound;
  const high = (ratio.over * low + beats) / ratio.under;
  const tone = { hz: low, seconds, restSeconds: 0, along: { hz: high, db } };
  const samples = walkSound([tone], { rateHz: RATE, seed: 11, snrDb }).map(
    (sample, i) => sample * (1 + tremoloShare * Math.sin((2 * Math.PI * 4.3 * i) / RATE)),
  );
  // What is known of the reeds is a little off, as reeds sounded together are.
  const pair = { lowHz: low * 1.001, highHz: high * 0.999, ratio };
  return heardBeats(settledStretch(samples, RATE), RATE, pair);
}

describe("beats heard of two reeds sounded together", () => {
  test.each([
    ["an octave of low reeds", OCTAVE, 131, 0.9],
    ["an octave", OCTAVE, 262, 3.4],
    ["a fifth", FIFTH, 294, 2.2],
    ["a major third", THIRD, 392, 5.7],
    ["a high octave", OCTAVE, 1047, 6.1],
  ])("of %s are told to a twentieth, and lie in the told range", (_, ratio, low, beats) => {
    const found = heard(ratio, low, beats);
    expect(found.kind).toBe("beats");
    if (found.kind !== "beats") return;
    expect(Math.abs(found.perSecond - beats)).toBeLessThan(0.05);
    expect(found.from).toBeLessThanOrEqual(beats);
    expect(found.to).toBeGreaterThanOrEqual(beats);
  });

  test("a breath that swells does not pass for beats, nor hides them", () => {
    expect(heard(FIFTH, 294, 0, { tremoloShare: 0.3 }).kind).not.toBe("beats");
    const found = heard(FIFTH, 294, 2.2, { tremoloShare: 0.3 });
    expect(found.kind === "beats" && Math.abs(found.perSecond - 2.2)).toBeLessThan(0.05);
  });

  test("a pure interval, or one reed alone, has none", () => {
    expect(heard(OCTAVE, 262, 0).kind).toBe("none");
    expect(heard(FIFTH, 294, 3, { db: -90 }).kind).toBe("none");
  });

  test("what is too short, silent or mere noise is not guessed at", () => {
    expect(heard(OCTAVE, 262, 3, { seconds: 1 })).toEqual({ kind: "not sure", why: "too short" });
    const pair = { lowHz: 262, highHz: 524, ratio: OCTAVE };
    expect(heardBeats(new Float32Array(3 * RATE), RATE, pair)).toEqual({ kind: "not sure", why: "too soft" });
    const noise = gaussian(seededRandom(4));
    for (let n = 0; n < 5; n++) {
      const samples = Float32Array.from({ length: 3 * RATE }, () => 0.1 * noise());
      expect(heardBeats(samples, RATE, pair).kind).toBe("not sure");
    }
  });
});
