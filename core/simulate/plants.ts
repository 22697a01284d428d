import * as v from "valibot";
import { type Exercise, type ExpectedNote, lengthOf } from "../exercise/exercise.ts";
import type { Random } from "../exercise/seeded-random.ts";
import { reedNote } from "../instrument/harp.ts";
import { inWords, tooMany } from "../reading/issues.ts";
import { Fault, parsed } from "../reading/json-values.ts";
import { LIMITS } from "../reading/limits.ts";
import { type Cents, type Midi, type Milliseconds, midi } from "../units.ts";

export const PLANT_SCHEMA = "reedpath.plant";
export const PLANT_VERSION = 1;

/** A mistake the simulated player makes. `index` is the expected note it concerns, from 0. */
export type Plant =
  | { readonly kind: "wrong"; readonly index: number; readonly midi: Midi }
  | { readonly kind: "missed"; readonly index: number }
  /** A note too many, in the second half of note `index`. */
  | { readonly kind: "extra"; readonly index: number; readonly midi: Midi }
  /** Out of tune: positive is sharp. */
  | { readonly kind: "pitch"; readonly index: number; readonly offsetCents: Cents }
  /** Off the beat: positive is late. */
  | { readonly kind: "time"; readonly index: number; readonly offsetMs: Milliseconds };

export type ReadPlants =
  | { readonly kind: "plants"; readonly plants: readonly Plant[] }
  | { readonly kind: "unreadable"; readonly reason: string };

const index = v.pipe(v.number(), v.integer(), v.minValue(0));
const note = v.optional(v.pipe(v.number(), v.integer(), v.minValue(40), v.maxValue(108)));
const plantShape = v.variant("kind", [
  v.object({ kind: v.literal("wrong"), index, midi: note }),
  v.object({ kind: v.literal("missed"), index }),
  v.object({ kind: v.literal("extra"), index, midi: note }),
  v.object({
    kind: v.literal("pitch"),
    index,
    offsetCents: v.pipe(v.number(), v.minValue(-49), v.maxValue(49)),
  }),
  v.object({
    kind: v.literal("time"),
    index,
    offsetMs: v.pipe(v.number(), v.minValue(-2000), v.maxValue(2000)),
  }),
]);
const fileShape = v.object({
  schema: v.literal(PLANT_SCHEMA),
  version: v.literal(PLANT_VERSION),
  faults: v.pipe(v.array(plantShape), v.maxLength(LIMITS.plantedFaults.most, tooMany(LIMITS.plantedFaults))),
});

/**
 * Reads a file of planted mistakes for one exercise. A wrong or extra note without `midi` becomes a neighbouring hole.
 *
 * @returns the plants, or one line naming the entry and what is wrong with it
 */
export function readPlants(text: string, exercise: Exercise): ReadPlants {
  const result = shapeOf(text);
  if ("reason" in result) return { kind: "unreadable", reason: result.reason };
  const plants: Plant[] = [];
  const taken = new Set<number>();
  for (const [place, fault] of result.faults.entries()) {
    const expected = exercise.notes[fault.index];
    if (expected === undefined) {
      return {
        kind: "unreadable",
        reason: `faults[${place}].index: there is no note ${fault.index}; the exercise has 0 to ${exercise.notes.length - 1}`,
      };
    }
    if (taken.has(fault.index)) {
      return {
        kind: "unreadable",
        reason: `faults[${place}].index: note ${fault.index} already has a fault`,
      };
    }
    const lengthMs = 1000 * lengthOf(exercise, expected);
    if (fault.kind === "time" && Math.abs(fault.offsetMs) > 0.8 * lengthMs) {
      return {
        kind: "unreadable",
        reason: `faults[${place}].offsetMs: ${fault.offsetMs} ms is too far for a note that lasts ${Math.round(lengthMs)} ms`,
      };
    }
    taken.add(fault.index);
    plants.push(complete(fault as Plant, exercise, expected));
  }
  return { kind: "plants", plants };
}

function shapeOf(text: string): v.InferOutput<typeof fileShape> | { readonly reason: string } {
  try {
    const result = v.safeParse(fileShape, parsed(text), { abortEarly: true });
    return result.success ? result.output : { reason: inWords(result.issues[0]) };
  } catch (error) {
    if (error instanceof Fault) return { reason: error.message };
    throw error;
  }
}

function complete(fault: Plant, exercise: Exercise, expected: ExpectedNote): Plant {
  if ((fault.kind === "wrong" || fault.kind === "extra") && fault.midi === undefined) {
    return {
      ...(fault as { kind: "wrong" | "extra"; index: number }),
      midi: neighbourNote(exercise, expected),
    };
  }
  return fault;
}

/** The plain note of the next hole on the same breath, or of the one below at the top of the harp. */
export function neighbourNote(exercise: Exercise, expected: ExpectedNote): Midi {
  const { hole, breath } = expected.action;
  for (const other of [hole + 1, hole - 1, hole + 2, hole - 2]) {
    const found = reedNote(exercise.harp, other, breath);
    if (found !== null && found !== expected.midi) return found;
  }
  return midi(expected.midi + 2);
}

/**
 * A handful of ordinary mistakes for a demonstration: one of each kind, on notes well apart.
 *
 * @throws RangeError if the exercise has fewer than eight notes
 */
export function choosePlants(exercise: Exercise, random: Random): readonly Plant[] {
  const count = exercise.notes.length;
  if (count < 8) throw new RangeError(`an exercise of ${count} notes is too short to plant five mistakes in`);
  const kinds = shuffled(["wrong", "missed", "extra", "flat", "late"] as const, random);
  // Notes 1 to count-1 in five equal stretches: two mistakes never meet, and the first note stays as a landmark.
  return kinds.map((kind, stretch) => {
    const from = 1 + Math.floor((stretch * (count - 1)) / 5);
    const to = Math.max(from, Math.floor(((stretch + 1) * (count - 1)) / 5) - 1);
    const place = from + Math.floor(random() * (to - from + 1));
    return plantOf(kind, exercise, place);
  });
}

function plantOf(
  kind: "wrong" | "missed" | "extra" | "flat" | "late",
  exercise: Exercise,
  place: number,
): Plant {
  const expected = exercise.notes[place];
  if (expected === undefined) throw new RangeError(`no note ${place} to plant a mistake on`);
  switch (kind) {
    case "wrong":
      return { kind, index: place, midi: neighbourNote(exercise, expected) };
    case "missed":
      return { kind, index: place };
    case "extra":
      return { kind, index: place, midi: neighbourNote(exercise, expected) };
    case "flat":
      return { kind: "pitch", index: place, offsetCents: -30 as Cents };
    case "late":
      return { kind: "time", index: place, offsetMs: 60 as Milliseconds };
  }
}

function shuffled<T>(items: readonly T[], random: Random): readonly T[] {
  const left = [...items];
  const drawn: T[] = [];
  while (left.length > 0) drawn.push(...left.splice(Math.floor(random() * left.length), 1));
  return drawn;
}
