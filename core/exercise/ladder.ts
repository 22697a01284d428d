import { harpName } from "../instrument/harp.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import { pitchClass } from "../pitch/note-names.ts";
import { type Midi, midi } from "../units.ts";
import type { Direction, Octaves, Range, Start } from "./drill-spec.ts";
import { homeAndMode, inPosition, nameOf, type Reach, type Step, withoutWhat } from "./reach.ts";

/** A note of the scale or chord; without an action it lies in the harp's range but the player cannot sound it. */
export interface Rung {
  readonly note: Midi;
  readonly degree: string;
  readonly action: ReedAction | null;
}

/** The notes of a scale or chord over the whole harp, rising, and how many make an octave. */
export interface Ladder {
  readonly rungs: readonly Rung[];
  /** Degree a range begins on where it does not say: the home note where it is there. */
  readonly first: string;
  readonly perOctave: number;
}

/**
 * The rungs of the mode, or of some of its degrees.
 *
 * @param wanted names of the degrees, all where left out
 */
export function ladderOf(reach: Reach, wanted: readonly string[] | null = null): Ladder {
  const degrees = reach.degrees.filter((degree) => wanted === null || wanted.includes(degree.name));
  const nameByClass = new Map(degrees.map((degree) => [degree.aboveHome as number, degree.name]));
  const rungs: Rung[] = [];
  // A semitone of room beyond the plain reeds: a bend or overblow may lie there.
  for (let note = reach.lowest - 1; note <= reach.highest + 1; note++) {
    const degree = nameByClass.get(pitchClass(note - reach.homeClass));
    if (degree !== undefined)
      rungs.push({ note: midi(note), degree, action: reach.easiest.get(note) ?? null });
  }
  return { rungs, first: degrees[0]?.name ?? "1", perOctave: degrees.length };
}

/** Rungs next to each other, all of which the player can sound, rising. */
export type Stretch =
  | { readonly kind: "stretch"; readonly steps: readonly Step[] }
  | { readonly kind: "missing"; readonly notes: readonly Midi[] };

/** Fewer plain notes in a row than this are no range to practise. */
const SHORTEST_PLAIN_RANGE = 3;

/** A range of the ladder as the player asked for it. */
export function findStretch(ladder: Ladder, range: Range): Stretch {
  const from = range.fromDegree ?? ladder.first;
  if (range.octaves === "plain range") return plainStretch(ladder, from);
  const span = ladder.perOctave * range.octaves;
  const tries: Stretch[] = [];
  for (const [place, rung] of ladder.rungs.entries()) {
    if (rung.degree === from && place + span < ladder.rungs.length)
      tries.push(stretchOf(ladder.rungs.slice(place, place + span + 1)));
  }
  return bestStretch(tries, range.start);
}

function stretchOf(rungs: readonly Rung[]): Stretch {
  const steps: Step[] = [];
  const notes: Midi[] = [];
  for (const { note, action } of rungs) {
    if (action === null) notes.push(note);
    else steps.push({ note, action });
  }
  return notes.length === 0 ? { kind: "stretch", steps } : { kind: "missing", notes };
}

/** Of the playable ones the lowest or the one with fewest bends; else the one that lacks least. */
function bestStretch(tries: readonly Stretch[], start: Start): Stretch {
  const whole = tries.filter((one) => one.kind === "stretch");
  const first = whole[0];
  if (first !== undefined) {
    if (start === "lowest") return first;
    return whole.reduce((best, next) => (bentNotes(next.steps) < bentNotes(best.steps) ? next : best));
  }
  const misses = tries.filter((one) => one.kind === "missing");
  return misses.reduce((a, b) => (b.notes.length < a.notes.length ? b : a), misses[0] ?? NO_ROOM);
}

const NO_ROOM: Stretch & { kind: "missing" } = { kind: "missing", notes: [] };

/** Notes of these that are not plain. */
export const bentNotes = (steps: readonly Step[]): number =>
  steps.reduce((count, step) => count + (step.action.technique === "plain" ? 0 : 1), 0);

/** The longest row of plain rungs from a degree on; the lower of equals. */
function plainStretch(ladder: Ladder, from: string): Stretch {
  let longest: Step[] = [];
  let row: Step[] = [];
  for (const { note, degree, action } of ladder.rungs) {
    if (action === null || action.technique !== "plain") row = [];
    else if (row.length > 0 || degree === from) row.push({ note, action });
    if (row.length > longest.length) longest = row;
  }
  return longest.length < SHORTEST_PLAIN_RANGE ? NO_ROOM : { kind: "stretch", steps: longest };
}

/** Why a degree cannot be begun on, or null. */
export function unknownDegree(reach: Reach, degree: string | undefined): string | null {
  if (degree === undefined || reach.degrees.some((own) => own.name === degree)) return null;
  const names = reach.degrees.map((own) => own.name).join(", ");
  return `${homeAndMode(reach)} has no degree "${degree}"; it has ${names}`;
}

/**
 * Why a range cannot be played, in words.
 *
 * @param what what was asked for: "one octave of D mixolydian"
 */
export function explainMissing(reach: Reach, what: string, missing: readonly Midi[]): string {
  const where = `${what} ${inPosition(reach)} on a ${harpName(reach.setting.harp)}`;
  if (missing.length === 0) return `${where}: the harp has no room for that range`;
  const names = missing.map((note) => nameOf(reach, note)).join(", ");
  return `${where} cannot be sounded ${withoutWhat(reach.setting.abilities)}: no ${names}`;
}

export function octavesInWords(octaves: Octaves): string {
  if (octaves === "plain range") return "the whole plain range";
  return octaves === 1 ? "one octave" : "two octaves";
}

export const DIRECTION_WORDS: Readonly<Record<Direction, string>> = {
  up: "up",
  down: "down",
  both: "up and down",
};

/** Up, down, or up and back, turning round on the top note once. */
export function inDirection<T>(rising: readonly T[], direction: Direction): readonly T[] {
  const falling = [...rising].reverse();
  if (direction === "up") return rising;
  return direction === "down" ? falling : [...rising, ...falling.slice(1)];
}
