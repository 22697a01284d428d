import { Chord } from "tonal";
import { type PitchClass, pitchClass, pitchClassOfName } from "../pitch/note-names.ts";
import { type Harp, reedNote } from "./harp.ts";
import { BREATHS, type Breath } from "./layout.ts";
import { withoutBass } from "./numerals.ts";
import type { TriadPart } from "./triads.ts";

/** A chord that is wanted: root, third, fifth and what stands above them, in that order. */
export interface WantedChord {
  /** "Am7", as the player knows it. */
  readonly name: string;
  /** At least root, third and fifth. */
  readonly notes: readonly PitchClass[];
}

/** Neighbouring holes of one breath that sound notes of a chord and none else. */
export interface ChordGrip {
  readonly breath: Breath;
  /** Two to four, ascending. */
  readonly holes: readonly number[];
  /** Which of root, third and fifth do not sound there. */
  readonly lacks: readonly TriadPart[];
}

const PARTS: readonly TriadPart[] = ["root", "third", "fifth"];

/**
 * The notes of a chord symbol, a bass after a slash left out.
 *
 * @returns null for what is no chord of three notes or more: "N.C.", "G5", a remark
 */
export function chordOfSymbol(symbol: string): WantedChord | null {
  const chord = Chord.get(withoutBass(symbol.trim()));
  const notes = chord.notes.flatMap((name) => pitchClassOfName(name) ?? []);
  const inThirds = notes.length >= 3 && notes.length === chord.notes.length;
  return chord.empty || !inThirds ? null : { name: symbol.trim(), notes };
}

/**
 * Where a harp has a chord: every grip of two or more neighbours that sounds at least two different notes of it, each note
 * in one octave only, low holes first.
 *
 * @param mostHoles how many holes the player's mouth covers, 2 to 4
 */
export function chordGrips(harp: Harp, chord: WantedChord, mostHoles: number): readonly ChordGrip[] {
  return BREATHS.flatMap((breath) =>
    harp.layout.holes.flatMap((_, index) =>
      Array.from({ length: mostHoles - 1 }, (_unused, more) =>
        gripOf(
          harp,
          chord,
          breath,
          Array.from({ length: more + 2 }, (_hole, step) => index + 1 + step),
        ),
      ).flatMap((grip) => grip ?? []),
    ),
  );
}

function gripOf(
  harp: Harp,
  { notes }: WantedChord,
  breath: Breath,
  holes: readonly number[],
): ChordGrip | null {
  const sounding: PitchClass[] = [];
  for (const hole of holes) {
    const note = reedNote(harp, hole, breath);
    if (note === null) return null;
    const one = pitchClass(note);
    // Two of a name are an octave or a unison: nothing shows whether both sound.
    if (!notes.includes(one) || sounding.includes(one)) return null;
    sounding.push(one);
  }
  return { breath, holes, lacks: PARTS.filter((_, part) => !sounding.includes(notes[part] as PitchClass)) };
}
