import { Chord, Interval } from "tonal";
import { beatsPerSecond, pureRatio } from "../pitch/beat-rate.ts";
import { letterName, noteName } from "../pitch/note-names.ts";
import { type Hz, type Midi, type Semitones, semitones } from "../units.ts";
import { type Harp, reedNote } from "./harp.ts";
import { BREATHS, type Breath } from "./layout.ts";
import { romanNumeral, withoutBass } from "./numerals.ts";
import type { HomeScale } from "./scale-report.ts";
import { targetHzOf } from "./target-cents.ts";

/** Two notes of a sonority. */
export interface SoundingInterval {
  readonly lowHole: number;
  readonly highHole: number;
  readonly semitones: Semitones;
  /** As `tonal` writes it: "3M", "5P", "8P". */
  readonly name: string;
  /** The pure ratio it beats against, "5/4"; null for intervals without a simple one. */
  readonly ratio: string | null;
  /** Beats in a second as the harp is tuned; null without a ratio. */
  readonly beatsPerSecond: number | null;
}

/** What sounds on some holes of one breath. */
export interface Sonority {
  readonly breath: Breath;
  /** The holes that sound, ascending. */
  readonly holes: readonly number[];
  /** Holes between them covered by the tongue. */
  readonly blocked: readonly number[];
  readonly notes: readonly Midi[];
  readonly noteNames: readonly string[];
  /** Chord names by `tonal`, the most usual first; none where the notes make no chord it knows. With a bass after a slash. */
  readonly chordNames: readonly string[];
  /** The first name as a Roman numeral in the home key and mode; null without a name. */
  readonly numeral: string | null;
  readonly intervals: readonly SoundingInterval[];
}

const MOST_NEIGHBOURS = 4;
/** A tongue covers one to three holes between the corners of the mouth. Common practice. */
const MOST_BLOCKED = 3;

/** Everything that sounds on two to four neighbouring holes of one breath, low holes first. Unison neighbours count as notes. */
export function neighbourSonorities(harp: Harp, scale: HomeScale): readonly Sonority[] {
  return overHoles(harp, (first) =>
    Array.from({ length: MOST_NEIGHBOURS - 1 }, (_, more) => ({
      holes: range(first, first + more + 1),
      blocked: [],
    })),
  ).flatMap(({ breath, holes, blocked }) => sonorityOf(harp, scale, breath, holes, blocked) ?? []);
}

/** Octaves split by the tongue: two holes of one breath a clean octave apart with one to three holes blocked between. */
export function splitOctaves(harp: Harp, scale: HomeScale): readonly Sonority[] {
  return overHoles(harp, (first) =>
    Array.from({ length: MOST_BLOCKED }, (_, more) => ({
      holes: [first, first + more + 2],
      blocked: range(first + 1, first + more + 1),
    })),
  )
    .filter(({ breath, holes: [low = 0, high = 0] }) => {
      const lower = reedNote(harp, low, breath);
      const upper = reedNote(harp, high, breath);
      return lower !== null && upper !== null && Math.abs(upper - lower) === 12;
    })
    .flatMap(({ breath, holes, blocked }) => sonorityOf(harp, scale, breath, holes, blocked) ?? []);
}

interface Grip {
  readonly holes: readonly number[];
  readonly blocked: readonly number[];
}

function overHoles(harp: Harp, grips: (first: number) => readonly Grip[]) {
  return BREATHS.flatMap((breath) =>
    harp.layout.holes.flatMap((_, index) => grips(index + 1).map((grip) => ({ breath, ...grip }))),
  );
}

/**
 * What some holes of one breath sound together.
 *
 * @param holes   numbers from 1, ascending, two or more
 * @param blocked holes kept silent between them
 * @returns null if one of the holes has no reed on that breath
 */
export function sonorityOf(
  harp: Harp,
  scale: HomeScale,
  breath: Breath,
  holes: readonly number[],
  blocked: readonly number[] = [],
): Sonority | null {
  const notes: Midi[] = [];
  for (const hole of holes) {
    const note = reedNote(harp, hole, breath);
    if (note === null) return null;
    notes.push(note);
  }
  const chordNames = chordNamesOf(notes, scale.spelling);
  const first = chordNames[0];
  return {
    breath,
    holes,
    blocked,
    notes,
    noteNames: notes.map((note) => noteName(note, scale.spelling)),
    chordNames,
    numeral: first === undefined ? null : romanNumeral(first, scale),
    intervals: intervalsOf(harp, scale, breath, holes, notes),
  };
}

/** Chord types players name first, triads before sevenths and sixths; `tonal` may put a rarer one first. Common practice. */
const USUAL_TYPES: readonly (readonly string[])[] = [
  ["M", "m", "dim", "aug"],
  ["7", "maj7", "m7", "m7b5", "dim7", "6", "m6"],
  ["5", "sus4", "sus2", "9", "m9", "maj9"],
];

function rarity(chordName: string): number {
  const { tonic, symbol } = Chord.get(withoutBass(chordName));
  const type = symbol.slice((tonic ?? "").length);
  const rank = USUAL_TYPES.findIndex((types) => types.includes(type));
  return rank === -1 ? USUAL_TYPES.length : rank;
}

/** Names already found: `tonal` compares against every chord it knows. */
const namesOfNotes = new Map<string, readonly string[]>();

/** Chord names of notes, the lowest being the bass. @param spelling note names of the scale in use */
export function chordNamesOf(notes: readonly Midi[], spelling: readonly string[]): readonly string[] {
  const bassFirst = [...notes].sort((a, b) => a - b).map((note) => letterName(note, spelling));
  const letters = [...new Set(bassFirst)];
  const key = letters.join(" ");
  const known = namesOfNotes.get(key);
  if (known !== undefined) return known;
  const found = letters.length < 2 ? [] : Chord.detect(letters);
  const names = [...found].sort((a, b) => rarity(a) - rarity(b));
  namesOfNotes.set(key, names);
  return names;
}

function intervalsOf(
  harp: Harp,
  scale: HomeScale,
  breath: Breath,
  holes: readonly number[],
  notes: readonly Midi[],
): readonly SoundingInterval[] {
  const sounding = holes
    .map((hole, index) => ({ hole, note: notes[index] ?? harp.keyNote, hz: reedHz(harp, hole, breath) }))
    .sort((a, b) => a.note - b.note);
  return sounding.flatMap((low, index) =>
    sounding.slice(index + 1).map((high) => {
      const size = semitones(high.note - low.note);
      return {
        lowHole: low.hole,
        highHole: high.hole,
        semitones: size,
        name: intervalName(noteName(low.note, scale.spelling), noteName(high.note, scale.spelling)),
        ratio: ratioText(size),
        beatsPerSecond: beatsPerSecond(low.hz, high.hz, size),
      };
    }),
  );
}

function ratioText(size: number): string | null {
  const pure = pureRatio(size);
  return pure === null ? null : `${pure.over}/${pure.under}`;
}

/** Intervals already named. */
const nameOfPair = new Map<string, string>();

function intervalName(low: string, high: string): string {
  const pair = `${low} ${high}`;
  const name = nameOfPair.get(pair) ?? Interval.distance(low, high);
  nameOfPair.set(pair, name);
  return name;
}

/** Frequencies of a harp's plain reeds already worked out: a reed sounds in up to a dozen grips. */
const hzOfReeds = new WeakMap<Harp, Map<string, Hz>>();

function reedHz(harp: Harp, hole: number, breath: Breath): Hz {
  const ofHarp = hzOfReeds.get(harp) ?? new Map<string, Hz>();
  hzOfReeds.set(harp, ofHarp);
  const reed = `${hole} ${breath}`;
  const found =
    ofHarp.get(reed) ?? targetHzOf(harp, { hole, breath, technique: "plain", bentSemitones: semitones(0) });
  ofHarp.set(reed, found);
  return found;
}

const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, step) => from + step);
