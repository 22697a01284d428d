import * as v from "valibot";
import { EXERCISE_KINDS } from "../../core/exercise/exercise.ts";
import { PATTERN_FIGURES } from "../../core/exercise/pattern-drill.ts";
import { ACCENTS } from "../../core/exercise/rhythm.ts";
import { FASTEST, NOTE_VALUES, SLOWEST } from "../../core/exercise/tempo.ts";
import { KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";

const wholeBetween = (low: number, high: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));

/** Every choice of the drill screen, whatever the kind: those a kind does not use keep their last value. */
const choiceShape = v.object({
  /** Id of a harp the player owns, or empty for a stock one of `layout` and `key`. */
  ownHarp: v.pipe(v.string(), v.maxLength(80)),
  /** Id in the catalogue or among the player's own. */
  layout: v.pipe(v.string(), v.maxLength(80)),
  key: v.picklist(KEYS_BY_REGISTER),
  position: wholeBetween(1, 12),
  mode: v.picklist(MODE_NAMES),
  bends: v.boolean(),
  overbends: v.boolean(),
  /** Holes whose overblows the player can do, "4 6"; empty for all. */
  overbendHoles: v.pipe(v.string(), v.maxLength(40)),
  kind: v.picklist(EXERCISE_KINDS),
  bpm: v.pipe(v.number(), v.minValue(SLOWEST), v.maxValue(FASTEST)),
  noteValue: v.picklist(NOTE_VALUES),
  notesPerBeat: v.picklist([1, 2, 3, 4]),
  rhythm: v.picklist(["even", "dotted", "swung 2:1"]),
  octaves: v.picklist([1, 2, "plain range"]),
  direction: v.picklist(["up", "down", "both"]),
  start: v.picklist(["easiest", "lowest"]),
  /** Degree a range begins on. */
  fromDegree: v.picklist(["1", "2", "3", "4", "5", "6", "7"]),
  accents: v.picklist(ACCENTS),
  degree: v.picklist(["1", "2", "3", "4", "5", "6", "7"]),
  chordSize: v.picklist(["triad", "seventh"]),
  numerals: v.pipe(v.string(), v.maxLength(80)),
  patternFigure: v.picklist(Object.keys(PATTERN_FIGURES) as (keyof typeof PATTERN_FIGURES)[]),
  bendFigure: v.picklist(["hold", "from-above", "match", "ladder"]),
  /** Whether the heard pitch is drawn against its target while playing. */
  targetShown: v.boolean(),
  /** Tab of the bend, or "any". */
  bend: v.pipe(v.string(), v.maxLength(8)),
  /** Tabs of the two reed actions. */
  first: v.pipe(v.string(), v.maxLength(8)),
  second: v.pipe(v.string(), v.maxLength(8)),
  jump: v.picklist([1, 2, 3, 4]),
  jumpBreath: v.picklist(["blow", "draw", "alternate"]),
  runBreath: v.picklist(["blow", "draw", "longest"]),
  repeats: wholeBetween(1, 32),
  toneBeats: wholeBetween(1, 16),
  restBeats: wholeBetween(0, 16),
  targetAs: v.picklist(["name", "degree", "heard"]),
  count: wholeBetween(8, 64),
  seed: wholeBetween(0, 2 ** 32 - 1),
});

/** What a player chooses for a drill: plain words and numbers, as they are kept and shown. */
export type DrillChoice = v.InferOutput<typeof choiceShape>;

export const FIRST_CHOICE: DrillChoice = {
  ownHarp: "",
  layout: "standard",
  key: "G",
  position: 2,
  mode: "mixolydian",
  bends: true,
  overbends: false,
  overbendHoles: "",
  kind: "scale",
  bpm: 90,
  noteValue: "1/4",
  notesPerBeat: 1,
  rhythm: "even",
  octaves: 1,
  direction: "both",
  start: "easiest",
  fromDegree: "1",
  accents: "none",
  degree: "1",
  chordSize: "triad",
  numerals: "I-IV-I",
  patternFigure: "thirds",
  bendFigure: "hold",
  targetShown: true,
  bend: "any",
  first: "4",
  second: "-4",
  jump: 2,
  jumpBreath: "draw",
  runBreath: "longest",
  repeats: 4,
  toneBeats: 4,
  restBeats: 4,
  targetAs: "name",
  count: 16,
  seed: 1,
};

/** The choice kept from the last visit; a field that makes no sense has its first value. */
export function choiceOfSettings(kept: Readonly<Record<string, unknown>> | null): DrillChoice {
  const fields = Object.entries(choiceShape.entries).flatMap(([name, shape]) => {
    const read = v.safeParse(shape as v.GenericSchema, kept?.[name]);
    return read.success ? [[name, read.output] as const] : [];
  });
  return { ...FIRST_CHOICE, ...Object.fromEntries(fields) };
}
