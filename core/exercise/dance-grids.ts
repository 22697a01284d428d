import { type Bpm, bpm } from "../units.ts";
import { type Accents, EVEN, type NotesPerBeat, type Rhythm } from "./rhythm.ts";
import type { NoteValue } from "./tempo.ts";

export const DANCES = ["reel", "jig", "slip-jig", "slide", "hornpipe", "polka", "strathspey"] as const;
export type Dance = (typeof DANCES)[number];

/** How a dance's running notes lie on the beat, for drills that are to be of use in it. */
export interface DanceGrid {
  readonly noteValue: NoteValue;
  readonly beatsPerBar: number;
  readonly notesPerBeat: NotesPerBeat;
  readonly rhythm: Rhythm;
  readonly accents: Accents;
  /** The slower end of what dancers ask for. */
  readonly danceTempo: Bpm;
}

/*
 * Metres and tempi: tempo table of a céilí dancers' club (bars a minute times beats); slip jig: Breathnach, Ceol Rince na
 * hÉireann 1. Strathspey: 56 minims, counted in crotchets. Hornpipe pairs near 2:1 and accents on the beat: common practice.
 */
export const DANCE_GRIDS: Readonly<Record<Dance, DanceGrid>> = {
  reel: grid("1/2", 2, 4, EVEN, 116),
  jig: grid("3/8", 2, 3, EVEN, 116),
  "slip-jig": grid("3/8", 3, 3, EVEN, 144),
  slide: grid("3/8", 4, 3, EVEN, 132),
  hornpipe: grid("1/2", 2, 4, { kind: "swung", ratio: 2 }, 92),
  polka: grid("1/4", 2, 2, EVEN, 132),
  strathspey: grid("1/4", 4, 2, { kind: "dotted" }, 112),
};

function grid(
  noteValue: NoteValue,
  beatsPerBar: number,
  notesPerBeat: NotesPerBeat,
  rhythm: Rhythm,
  tempo: number,
): DanceGrid {
  return { noteValue, beatsPerBar, notesPerBeat, rhythm, accents: "beats", danceTempo: bpm(tempo) };
}
