import { USUAL_TEMPI } from "../tune/dances.ts";
import type { NoteValue } from "../tune/tempo.ts";
import type { Bpm } from "../units.ts";
import type { BackingStrokes } from "./backing-strokes.ts";
import { type Accents, EVEN, type NotesPerBeat, type Rhythm } from "./rhythm.ts";

export const DANCES = [
  "reel",
  "jig",
  "slip-jig",
  "slide",
  "hornpipe",
  "polka",
  "strathspey",
  "waltz",
] as const;
export type Dance = (typeof DANCES)[number];

/** How a dance's running notes lie on the beat, for drills that are to be of use in it. */
export interface DanceGrid {
  readonly noteValue: NoteValue;
  readonly beatsPerBar: number;
  readonly notesPerBeat: NotesPerBeat;
  readonly rhythm: Rhythm;
  readonly accents: Accents;
  /** How its backing is struck. */
  readonly strokes: BackingStrokes;
  /** The slower end of what dancers ask for. */
  readonly danceTempo: Bpm;
}

/*
 * Metres: as the tempo tables in `tune/dances.ts`. Hornpipe pairs near 2:1 and accents on the beat, and backing: common practice.
 */
export const DANCE_GRIDS: Readonly<Record<Dance, DanceGrid>> = {
  reel: grid("reel", 2, 4, EVEN, "halves"),
  jig: grid("jig", 2, 3, EVEN, "long-short"),
  "slip-jig": grid("slip-jig", 3, 3, EVEN, "long-short"),
  slide: grid("slide", 4, 3, EVEN, "long-short"),
  hornpipe: grid("hornpipe", 2, 4, { kind: "swung", ratio: 2 }, "halves"),
  polka: grid("polka", 2, 2, EVEN, "halves"),
  strathspey: grid("strathspey", 4, 2, { kind: "dotted" }, "beats"),
  waltz: grid("waltz", 3, 2, EVEN, "beats"),
};

function grid(
  dance: Dance,
  beatsPerBar: number,
  notesPerBeat: NotesPerBeat,
  rhythm: Rhythm,
  strokes: BackingStrokes,
): DanceGrid {
  const { noteValue, bpm: danceTempo } = USUAL_TEMPI[dance];
  return { noteValue, beatsPerBar, notesPerBeat, rhythm, accents: "beats", strokes, danceTempo };
}
