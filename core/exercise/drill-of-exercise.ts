import * as v from "valibot";
import { type InHoles, readHoles } from "../instrument/reed-actions.ts";
import { inWords } from "../reading/issues.ts";
import { BACKING_STROKES } from "./backing-strokes.ts";
import type { DrillSpec } from "./drill-spec.ts";
import type { Exercise, Parameter } from "./exercise.ts";
import { actionShape, rhythmShape } from "./exercise-shape.ts";
import { PATTERN_FIGURES } from "./pattern-drill.ts";
import { ACCENTS, NOTES_PER_BEAT } from "./rhythm.ts";

export type ReadDrill =
  | { readonly kind: "drill"; readonly spec: DrillSpec }
  | { readonly kind: "unreadable"; readonly reason: string };

const inHoles = v.union([v.boolean(), v.array(v.number())]);
const abilities = v.object({ bends: inHoles, overbends: inHoles });
const notesPerBeat = v.picklist(NOTES_PER_BEAT);
const running = {
  notesPerBeat,
  rhythm: v.exactOptional(rhythmShape),
  accents: v.exactOptional(v.picklist(ACCENTS)),
};
const start = v.picklist(["easiest", "lowest"]);
const octaves = v.picklist([1, 2, "plain range"]);
const range = { octaves, start, fromDegree: v.exactOptional(v.string()) };
const direction = v.picklist(["up", "down", "both"]);
const breath = v.picklist(["blow", "draw"]);

const drillShape = v.variant("kind", [
  v.object({ kind: v.literal("scale"), abilities, ...running, ...range, direction }),
  v.object({
    kind: v.literal("arpeggio"),
    abilities,
    ...running,
    degree: v.string(),
    size: v.picklist(["triad", "seventh"]),
    octaves,
    start,
    direction,
  }),
  v.object({
    kind: v.literal("progression"),
    abilities,
    ...running,
    numerals: v.string(),
    figure: v.picklist(["up", "up-and-back"]),
    start,
    repeats: v.number(),
  }),
  v.object({
    kind: v.literal("backing"),
    abilities,
    chords: v.string(),
    strokes: v.picklist(BACKING_STROKES),
    mostHoles: v.number(),
    partial: v.boolean(),
    repeats: v.number(),
  }),
  v.object({
    kind: v.literal("pattern"),
    abilities,
    ...running,
    ...range,
    figure: v.picklist(Object.keys(PATTERN_FIGURES)),
    direction,
  }),
  v.object({
    kind: v.literal("bend"),
    abilities,
    figure: v.picklist(["hold", "from-above", "match", "ladder"]),
    technique: v.exactOptional(v.picklist(["bend", "overblow", "overdraw"])),
    hole: v.exactOptional(v.number()),
    breath: v.exactOptional(breath),
    bentSemitones: v.exactOptional(v.number()),
    holdBeats: v.number(),
    restBeats: v.number(),
    repeats: v.number(),
    targetShown: v.boolean(),
    seed: v.number(),
  }),
  v.object({
    kind: v.literal("breath-pair"),
    abilities,
    first: actionShape,
    second: actionShape,
    rounds: v.array(notesPerBeat),
    roundBeats: v.number(),
  }),
  v.object({
    kind: v.literal("hole-jumps"),
    abilities,
    ...running,
    jump: v.picklist([1, 2, 3, 4]),
    breath: v.picklist(["blow", "draw", "alternate"]),
    direction,
    repeats: v.number(),
  }),
  v.object({
    kind: v.literal("one-breath"),
    abilities,
    ...running,
    breath: v.picklist(["blow", "draw", "longest"]),
    repeats: v.number(),
  }),
  v.object({
    kind: v.literal("long-tones"),
    abilities,
    ...range,
    direction,
    toneBeats: v.number(),
    restBeats: v.number(),
  }),
  v.object({
    kind: v.literal("random-notes"),
    abilities,
    ...range,
    count: v.number(),
    seed: v.number(),
    targetAs: v.picklist(["name", "degree", "heard"]),
    largestLeap: v.exactOptional(v.number()),
    noteBeats: v.number(),
    callBeats: v.number(),
  }),
]);

/**
 * The drill an exercise was made from: give it to `makeDrill` to get the same notes again, or change it first.
 *
 * @returns the drill at the exercise's tempo, or one line naming the parameter that is missing or wrong
 */
export function drillOfExercise(exercise: Exercise): ReadDrill {
  const { harp, position, mode, tempo, beatsPerBar, countInBeats } = exercise;
  const { bends, overbends, ...parameters } = exercise.parameters;
  const own = parameters.abilities ?? storedAbilities(bends, overbends);
  const read = v.safeParse(drillShape, { ...parameters, abilities: own, kind: exercise.kind });
  if (!read.success) return { kind: "unreadable", reason: `parameters.${inWords(read.issues[0])}` };
  const setting = { harp, position, mode, tempo, beatsPerBar, countInBeats };
  return { kind: "drill", spec: { ...setting, ...read.output } as unknown as DrillSpec };
}

/** The first exercises hold what the player can do as two values: true, false, or hole numbers in one text. */
function storedAbilities(bends: Parameter | undefined, overbends: Parameter | undefined) {
  const holes = (value: Parameter | undefined): InHoles | null =>
    typeof value === "string" ? readHoles(value) : typeof value === "boolean" ? value : null;
  return { bends: holes(bends), overbends: holes(overbends) };
}
