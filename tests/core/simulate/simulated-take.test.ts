import { describe, expect, test } from "vitest";
import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { choosePlants, readPlants } from "../../../core/simulate/plants.ts";
import { playNotes, simulateTake } from "../../../core/simulate/simulated-take.ts";
import { exerciseOf } from "../../support/drills.ts";

const exercise = exerciseOf();
const settings = { seed: 7, plants: [], sampleRateHz: 48_000 };

describe("the simulated player", () => {
  test("plays the same take again for the same seed, and another for another", () => {
    const one = simulateTake(exercise, settings).samples;
    expect(simulateTake(exercise, settings).samples).toEqual(one);
    expect(simulateTake(exercise, { ...settings, seed: 8 }).samples).not.toEqual(one);
  });

  test("waits out the count-in, then plays for as long as the exercise lasts, without clipping", () => {
    const take = simulateTake(exercise, settings);
    const peakOf = (samples: Float32Array) =>
      samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
    const lead = take.samples.subarray(0, Math.floor(4 * (60 / 90) * 48_000) - 1);
    expect(peakOf(lead)).toBeLessThan(0.001); // room noise at -80 dBFS RMS
    expect(take.samples.length).toBeGreaterThan((4 + 15) * (60 / 90) * 48_000);
    const peak = peakOf(take.samples);
    expect(peak).toBeGreaterThan(0.1);
    expect(peak).toBeLessThan(1);
  });

  test("chooses one mistake of each kind, never two on one note and never the first", () => {
    for (let seed = 0; seed < 200; seed++) {
      const plants = choosePlants(exercise, seededRandom(seed));
      expect(plants.map((plant) => plant.kind).sort()).toEqual(["extra", "missed", "pitch", "time", "wrong"]);
      expect(new Set(plants.map((plant) => plant.index)).size).toBe(5);
      expect(Math.min(...plants.map((plant) => plant.index))).toBeGreaterThan(0);
    }
  });

  test("sounds one note at a time, whatever is planted", () => {
    const plants = choosePlants(exercise, seededRandom(3));
    const played = playNotes(exercise, plants);
    for (const [place, note] of played.entries()) {
      const next = played[place + 1];
      expect(note.offSeconds).toBeGreaterThan(note.onSeconds);
      if (next !== undefined) expect(next.onSeconds).toBeGreaterThan(note.offSeconds);
    }
  });
});

describe("a file of planted mistakes", () => {
  const file = (faults: unknown[]) => JSON.stringify({ schema: "reedpath.plant", version: 1, faults });
  const reason = (text: string) => {
    const read = readPlants(text, exercise);
    return read.kind === "unreadable" ? read.reason : "was read";
  };

  test("gives a wrong note without a pitch the next hole's", () => {
    const read = readPlants(file([{ kind: "wrong", index: 0 }]), exercise);
    // [calc] note 0 is 6 blow of a G harp, D5 = 74; 7 blow is G5 = 79.
    expect(read).toEqual({ kind: "plants", plants: [{ kind: "wrong", index: 0, midi: 79 }] });
  });

  test.each([
    ["{", /not JSON/],
    ["{}", /^schema: /],
    [file([{ kind: "sneeze", index: 0 }]), /^faults\[0\]\.kind: /],
    [file([{ kind: "missed", index: 15 }]), /there is no note 15; the exercise has 0 to 14/],
    [
      file([
        { kind: "missed", index: 1 },
        { kind: "wrong", index: 1 },
      ]),
      /note 1 already has a fault/,
    ],
    [file([{ kind: "pitch", index: 1, offsetCents: 80 }]), /^faults\[0\]\.offsetCents: /],
    [file([{ kind: "time", index: 1, offsetMs: 900 }]), /too far for a note that lasts 667 ms/],
  ])("that is not one says which entry and why (%#)", (text, expected) => {
    expect(reason(text)).toMatch(expected);
  });
});
