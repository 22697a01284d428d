import { USUAL_TEMPI } from "../tune/dances.ts";
import type { NoteValue } from "../tune/tempo.ts";
import type { Bpm } from "../units.ts";
import { type Accents, EVEN, type NotesPerBeat, type Rhythm } from "./rhythm.ts";

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
 * Metres: as the tempo tables in `tune/dances.ts`. Hornpipe pairs near 2:1 and accents on the beat: common practice.
 */
export const DANCE_GRIDS: Readonly<Record<Dance, DanceGrid>> = {
  reel: grid("reel", 2, 4, EVEN),
  jig: grid("jig", 2, 3, EVEN),
  "slip-jig": grid("slip-jig", 3, 3, EVEN),
  slide: grid("slide", 4, 3, EVEN),
  hornpipe: grid("hornpipe", 2, 4, { kind: "swung", ratio: 2 }),
  polka: grid("polka", 2, 2, EVEN),
  strathspey: grid("strathspey", 4, 2, { kind: "dotted" }),
};

function grid(dance: Dance, beatsPerBar: number, notesPerBeat: NotesPerBeat, rhythm: Rhythm): DanceGrid {
  const { noteValue, bpm: danceTempo } = USUAL_TEMPI[dance];
  return { noteValue, beatsPerBar, notesPerBeat, rhythm, accents: "beats", danceTempo };
}
