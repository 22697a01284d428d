import { Scale } from "tonal";
import { ownRow } from "../reading/own-row.ts";
import { quoted } from "../reading/quoting.ts";
import { type Degree, type DegreeSet, degreeOf, degreeOfName, degreeSetOf, readDegrees } from "./degrees.ts";
import { spellDegree } from "./spelling.ts";

export { type Degree, type DegreeSet, degreeOf, degreesOfText } from "./degrees.ts";

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

/** What a drill can be in: a mode by name, or any set of degrees. */
export type Mode = ModeName | DegreeSet;

/** Whether a mode has a name; if not it is a set of degrees. */
export const isNamed = (mode: Mode): mode is ModeName => Object.hasOwn(MODES, mode);

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

/** Of modes that hold equally much of a set of degrees the first is taken: the commoner signature. */
const BY_USE: readonly SevenMode[] = [
  "major",
  "minor",
  "mixolydian",
  "dorian",
  "lydian",
  "phrygian",
  "locrian",
];

/** The one of the seven modes whose key signature a scale is written in: for a set of degrees the one holding most of it. */
export function signatureMode(mode: Mode): SevenMode {
  if (!isNamed(mode)) {
    const names = mode.split(" ");
    const held = (one: SevenMode) => modeDegrees(one).filter((degree) => names.includes(degree.name)).length;
    return BY_USE.reduce((best, next) => (held(next) > held(best) ? next : best));
  }
  const own = SEVEN_MODES.find((one) => one === mode);
  return own ?? (mode === "major pentatonic" ? "major" : "minor");
}

/** Reads a mode's name, its words apart or joined by a hyphen; null if it is none of ours. */
export function modeOfName(name: string): ModeName | null {
  const lower = name
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, " ");
  return MODE_NAMES.find((mode) => mode === lower) ?? ownRow(ALSO_CALLED, lower) ?? null;
}

export type ReadMode =
  | { readonly kind: "mode"; readonly mode: Mode }
  | { readonly kind: "unreadable"; readonly reason: string };

/**
 * Reads a mode: its name, or a set of degrees ("1 b3 4 5 b7").
 *
 * @returns the mode; or one line naming the word that is no degree, or saying what there is
 */
export function readMode(text: string): ReadMode {
  const named = modeOfName(text);
  if (named !== null) return { kind: "mode", mode: named };
  const read = readDegrees(text);
  if (read.kind === "degrees") return { kind: "mode", mode: degreeSetOf(read.degrees) };
  // Whoever writes numbers means degrees; any other word is a name that there is not.
  if (/\d/.test(text)) return read;
  const modes = MODE_NAMES.join(", ");
  return {
    kind: "unreadable",
    reason: `${quoted(text)} is not known; there are ${modes}, or degrees such as "1 b3 4 5 b7"`,
  };
}

/** The degrees of a mode, ascending: from "1" where it has a name. */
export function modeDegrees(mode: Mode): readonly Degree[] {
  const known = degreesOfMode.get(mode);
  if (known !== undefined) return known;
  const degrees = isNamed(mode) ? Scale.get(MODES[mode]).intervals.map(degreeOfInterval) : degreesOfSet(mode);
  degreesOfMode.set(mode, degrees);
  return degrees;
}

function degreesOfSet(set: DegreeSet): readonly Degree[] {
  const read = readDegrees(set);
  if (read.kind === "unreadable") throw new RangeError(read.reason);
  return read.degrees;
}

const degreesOfMode = new Map<Mode, readonly Degree[]>();

/** Note names, without octave, of a mode on a home note: "D", "mixolydian" -> D E F# G A B C. */
export function spellMode(home: string, mode: Mode): readonly string[] {
  return spelledOnce(scaleNames, home, mode, () =>
    isNamed(mode)
      ? Scale.get(`${home} ${MODES[mode]}`).notes
      : modeDegrees(mode).map((degree) => spellDegree(home, degree)),
  );
}

/**
 * A name, without octave, for each of the twelve notes, by semitones above the home note: the degrees of the mode as the
 * mode has them, the notes between by their usual degree. So a note's name and its degree never disagree.
 */
export function spellingOf(home: string, mode: Mode): readonly string[] {
  return spelledOnce(allNames, home, mode, () =>
    Array.from({ length: 12 }, (_, step) => spellDegree(home, degreeOf(step, modeDegrees(mode)))),
  );
}

type Spelled = Map<string, readonly string[]>;
/** Scales already spelled: every note of a harp is named by one of a few, and kept by its list. */
const scaleNames: Spelled = new Map();
const allNames: Spelled = new Map();

function spelledOnce(where: Spelled, home: string, mode: Mode, spell: () => readonly string[]) {
  const key = `${home} ${mode}`;
  const known = where.get(key);
  if (known !== undefined) return known;
  const names = spell();
  where.set(key, names);
  return names;
}

const ACCIDENTAL_BY_SHIFT: Readonly<Record<number, string>> = { [-2]: "bb", [-1]: "b", 0: "", 1: "#" };

function degreeOfInterval(interval: string): Degree {
  const number = Number.parseInt(interval, 10);
  const name = `${ACCIDENTAL_BY_SHIFT[shiftOfQuality(interval, number)] ?? ""}${number}`;
  const degree = degreeOfName(name);
  if (degree === null) throw new RangeError(`the interval ${interval} is no degree`);
  return degree;
}

/** Against the major scale: perfect and major 0, minor -1, augmented +1, diminished -1 (perfect) or -2. */
function shiftOfQuality(interval: string, number: number): number {
  const quality = interval.replace(/^\d+/, "");
  if (quality === "m") return -1;
  if (quality === "A") return 1;
  if (quality === "d") return [1, 4, 5].includes(number) ? -1 : -2;
  return 0;
}
