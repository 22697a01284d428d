import { degreeSetOf } from "../pitch/degrees.ts";
import { type Degree, isNamed, type Mode, modeDegrees, spellingOf, spellMode } from "../pitch/modes.ts";
import { keyName, namer, type PitchClass, pitchClass } from "../pitch/note-names.ts";
import { type Midi, midi } from "../units.ts";
import type { Harp } from "./harp.ts";
import {
  type Abilities,
  EVERYTHING,
  PLAIN_ONLY,
  type ReedAction,
  reachOf,
  type Technique,
} from "./reed-actions.ts";

/** The easiest way a harp has to a note. Overdraws count as overblows. */
export type Means = "plain" | "bend" | "overblow" | "missing";

/** Which of the harp's notes of that name: "low" is the lowest, "top" the highest, "only" when there is one. */
export type Place = "only" | "low" | "middle" | "top" | `${number}${"nd" | "rd" | "th"}`;

/** A note of a scale on a harp. */
export interface FoundDegree {
  readonly degree: string;
  readonly note: Midi;
  readonly noteName: string;
  readonly place: Place;
  readonly means: Means;
  /** Every way to it, easiest first; none where it is missing. */
  readonly actions: readonly ReedAction[];
}

/** Neighbouring notes of a scale without a gap. */
export interface Run {
  readonly low: Midi;
  readonly high: Midi;
  /** Notes in it, both ends counted. */
  readonly notes: number;
}

/** Degrees above a home note, with the names their notes are spelled by. */
export interface HomeScale {
  readonly home: PitchClass;
  readonly degrees: readonly Degree[];
  readonly spelling: readonly string[];
}

/** What a harp gives of a scale. */
export interface ScaleReport {
  /** Notes ascending over everything the harp sounds, cut into octaves that begin with the home note or what follows it. */
  readonly octaves: readonly (readonly FoundDegree[])[];
  /** Octaves from home note to home note, both counted, with every degree plain. */
  readonly plainOctaves: number;
  readonly longestPlainRun: Run | null;
  /** The usable range: the longest run the player can sound by any means. */
  readonly longestRun: Run | null;
}

/** A mode, or a set of degrees, on a home note. @param homeName the home note's name without octave */
export function modeOn(home: PitchClass, mode: Mode, homeName: string = keyName(home)): HomeScale {
  const spelling = isNamed(mode) ? spellMode(homeName, mode) : spellingOf(homeName, mode);
  return { home, degrees: modeDegrees(mode), spelling };
}

/** Any degrees on a home note, each note spelled by its degree. @param degrees ascending, each once */
export function degreesOn(
  home: PitchClass,
  degrees: readonly Degree[],
  homeName: string = keyName(home),
): HomeScale {
  return modeOn(home, degreeSetOf(degrees), homeName);
}

/**
 * Which notes of a scale a harp has, and how.
 *
 * @param scale     its home note and degrees; at least one degree
 * @param abilities what the player can do besides plain notes; a note out of reach counts as missing
 */
export function scaleReport(harp: Harp, scale: HomeScale, abilities: Abilities = EVERYTHING): ScaleReport {
  const found = soundedNotes(harp, scale, abilities);
  return {
    octaves: inOctaves(found, scale),
    plainOctaves: plainOctaves(harp, scale),
    longestPlainRun: longestRun(found, (means) => means === "plain"),
    longestRun: longestRun(found, (means) => means !== "missing"),
  };
}

function soundedNotes(harp: Harp, scale: HomeScale, abilities: Abilities): readonly FoundDegree[] {
  const reach = reachOf(harp.layout, abilities);
  const sounds = [...reach.keys()];
  const lowest = harp.keyNote + (sounds[0] ?? 0);
  const highest = harp.keyNote + (sounds.at(-1) ?? 0);
  const firstHome = lowest - pitchClass(lowest - scale.home);
  const nameOf = namer(scale.spelling);
  const found: FoundDegree[] = [];
  for (let home = firstHome; home <= highest; home += 12) {
    for (const { name, aboveHome } of scale.degrees) {
      const note = midi(home + aboveHome);
      if (note < lowest || note > highest) continue;
      const below = Math.floor((note - lowest) / 12);
      const above = Math.floor((highest - note) / 12);
      const actions = reach.get(note - harp.keyNote) ?? NO_WAY;
      found.push({
        degree: name,
        note,
        noteName: nameOf(note),
        place: placeOf(below, below + above + 1),
        means: meansOf(actions[0]),
        actions,
      });
    }
  }
  return found;
}

const NO_WAY: readonly ReedAction[] = [];

const MEANS: Readonly<Record<Technique, Means>> = {
  plain: "plain",
  bend: "bend",
  overblow: "overblow",
  overdraw: "overblow",
};

function meansOf(easiest: ReedAction | undefined): Means {
  return easiest === undefined ? "missing" : MEANS[easiest.technique];
}

function placeOf(index: number, count: number): Place {
  if (count === 1) return "only";
  if (index === 0) return "low";
  if (index === count - 1) return "top";
  return count === 3 ? "middle" : ordinal(index + 1);
}

/** "2nd", "3rd", "4th" … of more than three. */
function ordinal(number: number): Place {
  if (number === 2) return "2nd";
  return number === 3 ? "3rd" : `${number}th`;
}

function inOctaves(found: readonly FoundDegree[], scale: HomeScale): readonly (readonly FoundDegree[])[] {
  const octaves: FoundDegree[][] = [];
  let octave = Number.NaN;
  for (const one of found) {
    const its = Math.floor((one.note - scale.home) / 12);
    if (its !== octave) octaves.push([]);
    octave = its;
    octaves.at(-1)?.push(one);
  }
  return octaves;
}

/** Octaves from home note to home note, both counted, that a harp has in plain notes throughout. */
export function plainOctaves(harp: Harp, scale: Pick<HomeScale, "home" | "degrees">): number {
  const plain = reachOf(harp.layout, PLAIN_ONLY);
  const whole = (home: number) =>
    plain.has(home + 12) && scale.degrees.every((degree) => plain.has(home + degree.aboveHome));
  return [...plain.keys()].filter(
    (sounds) => pitchClass(harp.keyNote + sounds) === scale.home && plain.has(sounds) && whole(sounds),
  ).length;
}

/** The longest stretch of neighbouring degrees that all pass; of equal ones the lowest. */
function longestRun(found: readonly FoundDegree[], passes: (means: Means) => boolean): Run | null {
  let start = 0;
  let best = { start: 0, end: 0 };
  for (let end = 1; end <= found.length; end++) {
    const last = found[end - 1];
    if (last === undefined || !passes(last.means)) start = end;
    else if (end - start > best.end - best.start) best = { start, end };
  }
  const low = found[best.start];
  const high = found[best.end - 1];
  return low === undefined || high === undefined
    ? null
    : { low: low.note, high: high.note, notes: best.end - best.start };
}
