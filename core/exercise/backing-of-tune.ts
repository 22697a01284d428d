import { chordOfSymbol } from "../instrument/chord-grips.ts";
import { onceThrough } from "../tune/once-through.ts";
import { type NoteValue, semibreves, type Tempo } from "../tune/tempo.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../tune/tune.ts";
import type { BackingStrokes } from "./backing-strokes.ts";
import { DANCE_GRIDS, DANCES } from "./dance-grids.ts";
import { beatOf, tempoIn } from "./tune-exercise.ts";

/** The backing a tune's chord symbols ask for, as a drill takes it. */
export interface TuneBacking {
  readonly kind: "backing";
  /** "G:2 D:1 G:1": each symbol with the whole beats it holds. */
  readonly chords: string;
  readonly tempo: Tempo;
  readonly beatsPerBar: number;
  /** As its dance is backed; by its beat where it is for none. */
  readonly strokes: BackingStrokes;
}

export type BackingOfTune = TuneBacking | { readonly kind: "none"; readonly reason: string };

const MOST_BEATS_PER_BAR = 16;

/**
 * The chord symbols of a tune, each written bar once, from the bar of the first on. Of symbols within one beat the last counts;
 * a symbol that is no chord of three notes leaves the one before it standing.
 */
export function backingOfTune(tune: Tune): BackingOfTune {
  const once = onceThrough(tune).tune;
  const noteValue = beatOf(tune.metre, tune.tempo);
  const ticksPerBeat = semibreves(noteValue) * TICKS_PER_SEMIBREVE;
  const known = once.chords.filter(({ symbol }) => chordOfSymbol(symbol) !== null);
  const [first] = known;
  if (first === undefined) return { kind: "none", reason: `${tune.title} has no chord symbols` };
  const bar = once.bars.findLast(({ startTicks, kind }) => kind !== "pick-up" && startTicks <= first.atTicks);
  const begin = bar?.startTicks ?? first.atTicks;
  const end = Math.max(...once.notes.map(({ startTicks, lengthTicks }) => startTicks + lengthTicks));
  const beatAt = (ticks: number) => Math.round((ticks - begin) / ticksPerBeat);
  const from = new Map<number, string>();
  for (const { atTicks, symbol } of known) from.set(beatAt(atTicks), symbol.trim());
  const places = [...from.keys()].sort((a, b) => a - b);
  const entries = places.map((place, at) => {
    const starts = at === 0 ? 0 : place;
    return `${from.get(place)}:${Math.max(1, (places[at + 1] ?? beatAt(end)) - starts)}`;
  });
  return {
    kind: "backing",
    chords: entries.join(" "),
    tempo: tempoIn(tune.tempo, noteValue),
    beatsPerBar: beatsOfBar(tune, noteValue),
    strokes: strokesFor(tune, noteValue),
  };
}

const STROKES_OF_BEAT: Readonly<Record<NoteValue, BackingStrokes>> = {
  "1/8": "beats",
  "1/4": "beats",
  "3/8": "long-short",
  "1/2": "halves",
};

function strokesFor({ dance }: Tune, noteValue: NoteValue): BackingStrokes {
  const known = DANCES.find((one) => one === dance);
  return known === undefined ? STROKES_OF_BEAT[noteValue] : DANCE_GRIDS[known].strokes;
}

function beatsOfBar({ metre }: Tune, noteValue: Tempo["noteValue"]): number {
  const count = metre === null ? 4 : metre.beats / metre.unit / semibreves(noteValue);
  return Number.isInteger(count) && count >= 1 && count <= MOST_BEATS_PER_BAR ? count : 1;
}
