import { describe, expect, test } from "vitest";
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { makeScaleDrill } from "../../../core/exercise/scale-drill.ts";
import { type Random, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { KEYS_BY_REGISTER } from "../../../core/instrument/harp.ts";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { choosePlants, type Plant } from "../../../core/simulate/plants.ts";
import { simulateTake } from "../../../core/simulate/simulated-take.ts";
import { bpm } from "../../../core/units.ts";
import { drill } from "../../support/drills.ts";
import { harp } from "../../support/harps.ts";

const RATES = [44_100, 48_000, 96_000];
const SLOWEST_BPM = 60;
const FASTEST_BPM = 200;

const pick = <T>(items: readonly T[], random: Random): T => {
  const item = items[Math.floor(random() * items.length)];
  if (item === undefined) throw new Error("nothing to pick from");
  return item;
};

/** Any scale drill of at least eight notes that a stock harp allows. */
function anyExercise(random: Random): Exercise {
  for (;;) {
    const position = pick([1, 2, 3], random);
    const made = makeScaleDrill(
      drill({
        harp: harp(pick(KEYS_BY_REGISTER, random)),
        position,
        mode: pick((["major", "mixolydian", "dorian"] as const).slice(position - 1, position), random),
        octaves: pick([1, 2] as const, random),
        notesPerBeat: pick([1, 2] as const, random),
        start: pick(["easiest", "lowest"] as const, random),
        tempo: {
          bpm: bpm(Math.round(SLOWEST_BPM + random() * (FASTEST_BPM - SLOWEST_BPM))),
          noteValue: "1/4",
        },
      }),
    );
    if (made.kind === "exercise") return made.exercise;
  }
}

/** What the marks should report of a planted mistake. */
function asFault(plant: Plant): readonly [kind: string, index: number] {
  if (plant.kind === "pitch") return [plant.offsetCents > 0 ? "sharp" : "flat", plant.index];
  if (plant.kind === "time") return [plant.offsetMs > 0 ? "late" : "early", plant.index];
  return [plant.kind, plant.index];
}

describe("planted mistakes and the marks that find them", () => {
  test.each(Array.from({ length: 40 }, (_, n) => 100 + n))(
    "any drill, seed %d: exactly the five planted are reported",
    (seed) => {
      const random = seededRandom(seed);
      const exercise = anyExercise(random);
      const plants = choosePlants(exercise, random);
      const take = simulateTake(exercise, { seed, plants, sampleRateHz: pick(RATES, random) });
      const attempt = scoreTake(exercise, listenToTake(take.samples, take.sampleRateHz));
      expect(attempt.faults.map((fault) => [fault.kind, fault.index])).toEqual(
        plants.map(asFault).sort((a, b) => a[1] - b[1]),
      );
    },
  );
});
