import { Scale } from "tonal";
import { type Semitones, semitones } from "../units.ts";

/** Modes and scales a drill can be in: our name, and the name `tonal` knows it by. */
const MODES = {
  major: "major",
  dorian: "dorian",
  phrygian: "phrygian",
  lydian: "lydian",
  mixolydian: "mixolydian",
  minor: "aeolian",
  locrian: "locrian",
  "harmonic minor": "harmonic minor",
  "major pentatonic": "major pentatonic",
  "minor pentatonic": "minor pentatonic",
  blues: "blues",
} as const;

export type ModeName = keyof typeof MODES;
export const MODE_NAMES = Object.keys(MODES) as readonly ModeName[];

/** The seven modes of the major scale: those with a key signature of their own. */
export const SEVEN_MODES = [
  "major",
  "dorian",
  "phrygian",
  "lydian",
  "mixolydian",
  "minor",
  "locrian",
] as const satisfies readonly ModeName[];
export type SevenMode = (typeof SEVEN_MODES)[number];

/** Older names of two of the modes, accepted on input. */
const ALSO_CALLED: Readonly<Record<string, ModeName>> = { ionian: "major", aeolian: "minor" };

/** The one of the seven modes whose key signature a scale is written in. */
export function signatureMode(mode: ModeName): SevenMode {
  const own = SEVEN_MODES.find((one) => one === mode);
  return own ?? (mode === "major pentatonic" ? "major" : "minor");
}

/** One step of a mode. */
export interface Degree {
  /** Scale degree against the major scale: "1", "b3", "#4". */
  readonly name: string;
  /** Semitones above the home note, 0..11. */
  readonly aboveHome: Semitones;
}

/** Reads a mode's name, its words apart or joined by a hyphen; null if it is none of ours. */
export function modeOfName(name: string): ModeName | null {
  const lower = name
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, " ");
  return MODE_NAMES.find((mode) => mode === lower) ?? ALSO_CALLED[lower] ?? null;
}

/** The degrees of a mode, ascending from "1". */
export function modeDegrees(mode: ModeName): readonly Degree[] {
  const known = degreesOfMode.get(mode);
  if (known !== undefined) return known;
  const degrees = Scale.get(MODES[mode]).intervals.map(degreeOfInterval);
  degreesOfMode.set(mode, degrees);
  return degrees;
}

const degreesOfMode = new Map<ModeName, readonly Degree[]>();

/** Note names, without octave, of a mode on a home note: "D", "mixolydian" -> D E F# G A B C. */
export function spellMode(home: string, mode: ModeName): readonly string[] {
  const scale = `${home} ${MODES[mode]}`;
  const known = spelled.get(scale);
  if (known !== undefined) return known;
  const notes = Scale.get(scale).notes;
  spelled.set(scale, notes);
  return notes;
}

/** Scales already spelled: every note of a harp is named by one of a few. */
const spelled = new Map<string, readonly string[]>();

/** Degree names by semitones above the home note, where no mode says otherwise. Common practice. */
const DEGREE_NAMES = ["1", "b2", "2", "b3", "3", "4", "b5", "5", "b6", "6", "b7", "7"] as const;

/** The degree a note is, named as the mode names it where it belongs to the mode. */
export function degreeOf(aboveHome: number, degrees: readonly Degree[] = []): Degree {
  const step = ((aboveHome % 12) + 12) % 12;
  const own = degrees.find((degree) => degree.aboveHome === step);
  return own ?? { name: DEGREE_NAMES[step] ?? "1", aboveHome: semitones(step) };
}

/**
 * Reads any set of degrees, "1 b3 4 5 b7" or with commas.
 *
 * @returns the degrees ascending, each once; null if a word is not a degree from b1 to #7, or there is none
 */
export function degreesOfText(text: string): readonly Degree[] | null {
  const words = text.split(/[\s,]+/).filter((word) => word !== "");
  const read = words.map(readDegree);
  const found = new Map(read.flatMap((degree) => (degree === null ? [] : [[degree.aboveHome, degree]])));
  if (words.length === 0 || read.includes(null)) return null;
  return [...found.values()].sort((a, b) => a.aboveHome - b.aboveHome);
}

function readDegree(word: string): Degree | null {
  const match = /^(b{0,2}|#)([1-7])$/.exec(word);
  if (match === null) return null;
  const [, sign = "", number = "1"] = match;
  const shift = sign === "#" ? 1 : -sign.length;
  const step = (MAJOR_STEPS[Number(number) - 1] ?? 0) + shift;
  return { name: word, aboveHome: semitones((step + 12) % 12) };
}

const MAJOR_STEPS = [0, 2, 4, 5, 7, 9, 11];
const ACCIDENTAL_BY_SHIFT: Readonly<Record<number, string>> = { [-2]: "bb", [-1]: "b", 0: "", 1: "#" };

function degreeOfInterval(interval: string): Degree {
  const number = Number.parseInt(interval, 10);
  const shift = shiftOfQuality(interval, number);
  const step = MAJOR_STEPS[number - 1] ?? 0;
  return { name: `${ACCIDENTAL_BY_SHIFT[shift] ?? ""}${number}`, aboveHome: semitones(step + shift) };
}

/** Against the major scale: perfect and major 0, minor -1, augmented +1, diminished -1 (perfect) or -2. */
function shiftOfQuality(interval: string, number: number): number {
  const quality = interval.replace(/^\d+/, "");
  if (quality === "m") return -1;
  if (quality === "A") return 1;
  if (quality === "d") return [1, 4, 5].includes(number) ? -1 : -2;
  return 0;
}
