import * as v from "valibot";
import { harpShape } from "../instrument/harp-shape.ts";
import { MOST_HOLES } from "../instrument/layout.ts";
import { type Mode, readMode } from "../pitch/modes.ts";
import { pitchClassOfName } from "../pitch/note-names.ts";
import { tooMany } from "../reading/issues.ts";
import { LIMITS } from "../reading/limits.ts";
import { FASTEST, NOTE_VALUES, SLOWEST } from "../tune/tempo.ts";
import { EXERCISE_KINDS, EXERCISE_SCHEMA, EXERCISE_VERSION } from "./exercise.ts";
import { LEAST_SWING, MOST_SWING } from "./rhythm.ts";

const MOST_NOTES = LIMITS.exerciseNotes.most;

const wholeBetween = (low: number, high: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));
const numberBetween = (low: number, high: number) => v.pipe(v.number(), v.minValue(low), v.maxValue(high));
const text = v.pipe(v.string(), v.maxLength(500));
/** What a staff can show: "F#4", "Bb-1". */
const nameWithOctave = v.pipe(v.string(), v.regex(/^[A-G](#{1,2}|b{1,2})?-?\d$/, "not the name of a note"));
const breath = v.picklist(["blow", "draw"]);
const onsetBeats = numberBetween(0, 1e6);
const lengthBeats = v.pipe(v.number(), v.gtValue(0), v.maxValue(1e4));

export const actionShape = v.object({
  hole: wholeBetween(1, MOST_HOLES),
  breath,
  technique: v.picklist(["plain", "bend", "overblow", "overdraw"]),
  bentSemitones: wholeBetween(0, 24),
});

export const rhythmShape = v.variant("kind", [
  v.object({ kind: v.literal("even") }),
  v.object({ kind: v.literal("dotted") }),
  v.object({ kind: v.literal("swung"), ratio: numberBetween(LEAST_SWING, MOST_SWING) }),
]);

const chordReedShape = v.object({
  midi: wholeBetween(0, 127),
  targetCents: numberBetween(-1200, 1200),
  noteName: nameWithOctave,
  action: actionShape,
});

const noteShape = v.object({
  index: wholeBetween(0, MOST_NOTES),
  startBeats: onsetBeats,
  lengthBeats,
  midi: wholeBetween(0, 127),
  targetCents: numberBetween(-1200, 1200),
  noteName: nameWithOctave,
  degree: text,
  action: actionShape,
  tab: text,
  accent: v.exactOptional(v.literal(true)),
  written: v.exactOptional(v.object({ startBeats: onsetBeats, lengthBeats })),
  calledAtBeats: v.exactOptional(onsetBeats),
  chord: v.exactOptional(
    v.object({
      name: text,
      lacks: v.pipe(v.array(v.picklist(["root", "third", "fifth"])), v.maxLength(3)),
      besides: v.pipe(v.array(chordReedShape), v.minLength(1), v.maxLength(MOST_HOLES)),
    }),
  ),
});

const plainParameter = v.union([
  // The chords of a long tune stand in one text.
  v.pipe(v.string(), v.maxLength(2000)),
  v.number(),
  v.boolean(),
  v.pipe(v.array(v.number()), v.maxLength(100)),
]);
const parameter = v.union([plainParameter, v.record(v.string(), plainParameter)]);

/** A mode's name or a set of degrees; what is wrong with it is said as it is to whoever types it. */
const mode = v.pipe(
  text,
  v.rawTransform<string, Mode>(({ dataset, addIssue, NEVER }) => {
    const read = readMode(dataset.value);
    if (read.kind === "mode") return read.mode;
    addIssue({ message: read.reason });
    return NEVER;
  }),
);

/** An exercise file, version 1 to 4. Fields that came later may be absent. */
export const exerciseShape = v.object({
  schema: v.literal(EXERCISE_SCHEMA),
  version: v.picklist([1, 2, 3, EXERCISE_VERSION]),
  kind: v.picklist(EXERCISE_KINDS),
  title: text,
  trains: text,
  harp: harpShape,
  position: wholeBetween(1, 12),
  home: v.pipe(
    v.string(),
    v.check((name) => pitchClassOfName(name) !== null, "not the name of a note"),
  ),
  mode,
  tempo: v.object({ bpm: numberBetween(SLOWEST, FASTEST), noteValue: v.picklist(NOTE_VALUES) }),
  beatsPerBar: wholeBetween(1, 16),
  countInBeats: wholeBetween(0, 16),
  rhythm: v.exactOptional(rhythmShape),
  caution: v.exactOptional(text),
  targetShown: v.exactOptional(v.boolean()),
  targetAs: v.exactOptional(v.picklist(["name", "degree", "heard"])),
  parameters: v.record(v.string(), parameter),
  chords: v.exactOptional(
    v.pipe(v.array(v.object({ startBeats: onsetBeats, symbol: text })), v.maxLength(MOST_NOTES)),
  ),
  notes: v.pipe(
    v.array(noteShape),
    v.minLength(1),
    v.maxLength(LIMITS.exerciseNotes.most, tooMany(LIMITS.exerciseNotes)),
  ),
});
