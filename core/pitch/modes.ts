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
} as const;

export type ModeName = keyof typeof MODES;
export const MODE_NAMES = Object.keys(MODES) as readonly ModeName[];

/** Older names of two of the modes, accepted on input. */
const ALSO_CALLED: Readonly<Record<string, ModeName>> = { ionian: "major", aeolian: "minor" };

/** One step of a mode. */
export interface Degree {
  /** Scale degree against the major scale: "1", "b3", "#4". */
  readonly name: string;
  /** Semitones above the home note, 0..11. */
  readonly aboveHome: Semitones;
}

/** Reads a mode's name; null if it is none of ours. */
export function modeOfName(name: string): ModeName | null {
  const lower = name.trim().toLowerCase();
  return MODE_NAMES.find((mode) => mode === lower) ?? ALSO_CALLED[lower] ?? null;
}

/** The degrees of a mode, ascending from "1". */
export function modeDegrees(mode: ModeName): readonly Degree[] {
  return Scale.get(MODES[mode]).intervals.map(degreeOfInterval);
}

/** Note names, without octave, of a mode on a home note: "D", "mixolydian" -> D E F# G A B C. */
export function spellMode(home: string, mode: ModeName): readonly string[] {
  return Scale.get(`${home} ${MODES[mode]}`).notes;
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
