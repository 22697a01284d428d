import * as v from "valibot";
import { BACKING_STROKES } from "../../core/exercise/backing-strokes.ts";
import { DRILL_KINDS } from "../../core/exercise/exercise.ts";
import { PATTERN_FIGURES } from "../../core/exercise/pattern-drill.ts";
import { ACCENTS, LEAST_SWING, MOST_SWING, NOTES_PER_BEAT } from "../../core/exercise/rhythm.ts";
import { KEYS_BY_REGISTER, REGISTERS } from "../../core/instrument/harp.ts";
import { MOST_HOLES } from "../../core/instrument/layout.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";
import { SCHEME_IDS } from "../../core/pitch/tuning-schemes.ts";
import { FASTEST, NOTE_VALUES, SLOWEST } from "../../core/tune/tempo.ts";

const between = (low: number, high: number) => v.pipe(v.number(), v.minValue(low), v.maxValue(high));
const wholeBetween = (low: number, high: number) => v.pipe(between(low, high), v.integer());
const textOf = (most: number) => v.pipe(v.string(), v.maxLength(most));
const breath = ["blow", "draw"] as const;

/** Stands for the set of degrees that is typed beside it. */
export const SET_OF_DEGREES = "degrees";

/** The harp in hand, the position and mode, what the player can do, and the beat. */
const settingShape = {
  /** Id of a harp the player owns, or empty for a stock one of `layout`, `key`, `register` and `temperament`. */
  ownHarp: textOf(80),
  /** Id in the catalogue or among the player's own. */
  layout: textOf(80),
  key: v.picklist(KEYS_BY_REGISTER),
  register: v.picklist(REGISTERS),
  temperament: v.picklist(["equal", ...SCHEME_IDS]),
  position: wholeBetween(1, 12),
  mode: v.picklist([...MODE_NAMES, SET_OF_DEGREES]),
  /** "1 2 b3 5", used where the mode is a set of degrees. */
  degrees: textOf(80),
  bends: v.boolean(),
  /** Holes the player can bend, "2 3"; empty for all. */
  bendHoles: textOf(40),
  overbends: v.boolean(),
  /** Holes whose overblows the player can do, "4 6"; empty for all. */
  overbendHoles: textOf(40),
  bpm: between(SLOWEST, FASTEST),
  noteValue: v.picklist(NOTE_VALUES),
  /** 0 for what the note value usually has. */
  beatsPerBar: wholeBetween(0, 16),
  countInBeats: wholeBetween(0, 16),
};

/** What several kinds share: how notes run, and over what range. */
const sharedShape = {
  notesPerBeat: v.picklist(NOTES_PER_BEAT),
  rhythm: v.picklist(["even", "dotted", "swung"]),
  /** Long to short, so many to 1. */
  swing: between(LEAST_SWING, MOST_SWING),
  accents: v.picklist(ACCENTS),
  octaves: v.picklist([1, 2, "plain range"]),
  direction: v.picklist(["up", "down", "both"]),
  start: v.picklist(["easiest", "lowest"]),
  /** Degree a range begins on; see `degreeInMode`. */
  fromDegree: textOf(3),
  repeats: wholeBetween(1, 32),
  restBeats: between(0, 16),
  seed: wholeBetween(0, 2 ** 32 - 1),
};

const bendShape = {
  bendFigure: v.picklist(["hold", "from-above", "match", "ladder"]),
  technique: v.picklist(["bend", "overblow", "overdraw"]),
  /** 0 for any. */
  bendHole: wholeBetween(0, MOST_HOLES),
  bendBreath: v.picklist(["either", ...breath]),
  /** Semitones, 0 for any. */
  bendDepth: wholeBetween(0, 24),
  holdBeats: between(0.5, 16),
  /** Whether the heard pitch is drawn against its target while playing. */
  targetShown: v.boolean(),
};

const breathShape = {
  /** Tabs of the two reed actions. */
  first: textOf(8),
  second: textOf(8),
  /** Notes to the beat of each round, "1 2 4". */
  rounds: textOf(20),
  roundBeats: wholeBetween(1, 64),
  jump: v.picklist([1, 2, 3, 4]),
  jumpBreath: v.picklist([...breath, "alternate"]),
  runBreath: v.picklist([...breath, "longest"]),
  toneBeats: between(1, 16),
};

/** Every choice of the drill screen, whatever the kind: those a kind does not use keep their last value. */
const choiceShape = v.object({
  ...settingShape,
  kind: v.picklist(DRILL_KINDS),
  ...sharedShape,
  degree: textOf(3),
  chordSize: v.picklist(["triad", "seventh"]),
  /** Empty for one much played in the mode. */
  numerals: textOf(80),
  chordFigure: v.picklist(["up", "up-and-back"]),
  /** Roman numerals or chord symbols; empty for a row much played in the mode. */
  backingChords: textOf(2000),
  strokes: v.picklist(BACKING_STROKES),
  /** How many holes the mouth covers. */
  mostHoles: v.picklist([2, 3, 4]),
  /** Whether a chord may lack a note. */
  partialChords: v.boolean(),
  patternFigure: v.picklist(Object.keys(PATTERN_FIGURES) as (keyof typeof PATTERN_FIGURES)[]),
  ...bendShape,
  ...breathShape,
  targetAs: v.picklist(["name", "degree", "heard"]),
  count: wholeBetween(1, 500),
  /** Steps of the scale, 0 for any. */
  largestLeap: wholeBetween(0, 100),
  noteBeats: between(0.25, 16),
  callBeats: between(0, 16),
});

/** What a player chooses for a drill: plain words and numbers, as they are kept and shown. */
export type DrillChoice = v.InferOutput<typeof choiceShape>;

export const FIRST_CHOICE: DrillChoice = {
  ownHarp: "",
  layout: "standard",
  key: "G",
  register: "usual",
  temperament: "equal",
  position: 2,
  mode: "mixolydian",
  degrees: "1 2 3 5 6",
  bends: true,
  bendHoles: "",
  overbends: false,
  overbendHoles: "",
  bpm: 90,
  noteValue: "1/4",
  beatsPerBar: 0,
  countInBeats: 4,
  kind: "scale",
  notesPerBeat: 1,
  rhythm: "even",
  swing: 2,
  accents: "none",
  octaves: 1,
  direction: "both",
  start: "easiest",
  fromDegree: "1",
  repeats: 4,
  restBeats: 4,
  seed: 1,
  degree: "1",
  chordSize: "triad",
  numerals: "",
  chordFigure: "up-and-back",
  backingChords: "",
  strokes: "beats",
  mostHoles: 3,
  partialChords: true,
  patternFigure: "thirds",
  bendFigure: "hold",
  technique: "bend",
  bendHole: 0,
  bendBreath: "either",
  bendDepth: 0,
  holdBeats: 4,
  targetShown: true,
  first: "4",
  second: "-4",
  rounds: "1 2 3 4",
  roundBeats: 8,
  jump: 2,
  jumpBreath: "draw",
  runBreath: "longest",
  toneBeats: 4,
  targetAs: "name",
  count: 16,
  largestLeap: 0,
  noteBeats: 1,
  callBeats: 1,
};

/** The choice kept from the last visit; a field that makes no sense has its first value. */
export function choiceOfSettings(kept: Readonly<Record<string, unknown>> | null): DrillChoice {
  const fields = Object.entries(choiceShape.entries).flatMap(([name, shape]) => {
    const read = v.safeParse(shape as v.GenericSchema, kept?.[name]);
    return read.success ? [[name, read.output] as const] : [];
  });
  return { ...FIRST_CHOICE, ...Object.fromEntries(fields) };
}
