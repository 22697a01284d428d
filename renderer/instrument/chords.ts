import { type Harp, reedNote } from "../../core/instrument/harp.ts";
import type { Breath } from "../../core/instrument/layout.ts";
import type { HomeScale } from "../../core/instrument/scale-report.ts";
import {
  chordNamesOf,
  neighbourSonorities,
  type Sonority,
  splitOctaves,
} from "../../core/instrument/sonorities.ts";
import { type TriadPlace, type TriadReport, triadReports } from "../../core/instrument/triads.ts";
import { pitchClass } from "../../core/pitch/note-names.ts";
import { midi } from "../../core/units.ts";

/** Holes of one breath that sound together. */
export interface ChordGrip {
  readonly breath: Breath;
  readonly holes: readonly number[];
  /** "2-3-4 draw", "lacks the fifth". */
  readonly words: string;
}

/** A chord of the list. */
export interface ListedChord {
  readonly numeral: string;
  /** "Dm"; the notes where they make no chord with a name. */
  readonly name: string;
  readonly noteNames: readonly string[];
  readonly has: TriadReport["has"];
  readonly grips: readonly ChordGrip[];
}

/** The triads of a home key and mode on a harp: complete places where there are any, else the partial ones. */
export function triadList(harp: Harp, scale: HomeScale): readonly ListedChord[] {
  return triadReports(harp, scale).map((triad) => ({
    numeral: triad.numeral,
    name: triadName(triad, scale),
    noteNames: triad.noteNames,
    has: triad.has,
    grips: (triad.has === "complete" ? triad.complete : triad.partial).map((place) => gripOf(harp, place)),
  }));
}

function triadName({ root, noteNames, numeral }: TriadReport, scale: HomeScale): string {
  const isMinor = numeral.toLowerCase() === numeral;
  const third = isMinor ? 3 : 4;
  const fifth = numeral.endsWith("°") ? 6 : numeral.endsWith("+") ? 8 : 7;
  const notes = [0, third, fifth].map((above) => midi(60 + root + above));
  return plainName(chordNamesOf(notes, scale.spelling)[0] ?? noteNames.join(" "));
}

/** "CM" -> "C", "CM/G" -> "C/G": players leave the sign for major out. */
const plainName = (name: string) => name.replace(/^([A-G][#b]*)M(?=$|\/)/, "$1");

/** The fewest neighbours of a place, three or four, that sound all it has. */
function gripOf(harp: Harp, { breath, holes, lacks }: TriadPlace): ChordGrip {
  const different = (grip: readonly number[]) =>
    new Set(grip.map((hole) => pitchClass(reedNote(harp, hole, breath) ?? 0))).size;
  const grips = [2, 3, 4].flatMap((size) =>
    holes.map((_, index) => holes.slice(index, index + size)).filter((grip) => grip.length === size),
  );
  const best = grips.find((grip) => different(grip) === 3 - lacks.length) ?? holes;
  const span = best.length === holes.length ? "" : `, all of ${holes[0]} to ${holes.at(-1)}`;
  const lack = lacks.length === 0 ? "" : `, lacks the ${lacks.join(" and ")}`;
  return { breath, holes: best, words: `${best.join("-")} ${breath}${span}${lack}` };
}

/** A sonority that is no triad of the list: sevenths, sixths and split octaves. */
export interface ListedSonority {
  readonly name: string;
  readonly numeral: string | null;
  readonly grip: ChordGrip;
}

/** Chords of four different notes on neighbouring holes, then octaves with the holes between them blocked. */
export function otherChords(harp: Harp, scale: HomeScale): readonly ListedSonority[] {
  const named = neighbourSonorities(harp, scale).filter(
    (one) => one.chordNames.length > 0 && new Set(one.notes.map(pitchClass)).size === 4,
  );
  return [...named, ...splitOctaves(harp, scale)].map(listed);
}

function listed({ breath, holes, blocked, chordNames, numeral, noteNames }: Sonority): ListedSonority {
  const words = `${holes.join("-")} ${breath}${blocked.length === 0 ? "" : `, ${blocked.join("-")} blocked`}`;
  const name = blocked.length > 0 ? `octave ${noteNames.join(" ")}` : plainName(chordNames[0] ?? "");
  return { name, numeral: blocked.length > 0 ? null : numeral, grip: { breath, holes, words } };
}
