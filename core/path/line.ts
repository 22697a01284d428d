import { semibreves, type Tempo } from "../tune/tempo.ts";
import { TICKS_PER_SEMIBREVE, type Tune, type TuneBar, type TuneNote } from "../tune/tune.ts";
import { type Midi, midi, type Seconds, seconds } from "../units.ts";

/** One note of a melody as the breath sees it. */
export interface LineNote {
  readonly midi: Midi;
  /** Onset from the beginning of the tune. */
  readonly startSeconds: Seconds;
  readonly lengthSeconds: Seconds;
  /** Notes with the same number are one choice: they always take the same reed action. All of them have one pitch. */
  readonly choice: number;
  /** "bar 7", "pick-up to bar 1": as players count. */
  readonly where: string;
}

/** Notes in playing order, none of which begins before the one before it. */
export type Line = readonly LineNote[];

/**
 * What is always played alike: "bars" repeats and bars with the same notes and rhythm; "repeats" only what is written once
 * and played again; "nothing" each note by itself.
 */
export type Alike = "bars" | "repeats" | "nothing";

export interface LineOptions {
  /** The tune's own where absent. */
  readonly tempo?: Tempo;
  /** Semitones the notes are moved up; 0 where absent. */
  readonly shift?: number;
  /** "bars" where absent. */
  readonly alike?: Alike;
}

/** A tune as the breath sees it. Ornaments and the further notes of chords are left out. */
export function lineOfTune(tune: Tune, options: LineOptions = {}): Line {
  const { tempo = tune.tempo, shift = 0, alike = "bars" } = options;
  const aTick = 60 / (tempo.bpm * semibreves(tempo.noteValue) * TICKS_PER_SEMIBREVE);
  const choices = choicesOf(tune, alike);
  const places = barPlaces(tune.bars);
  return tune.notes.map((note, index) => ({
    midi: midi(note.midi + shift),
    startSeconds: seconds(note.startTicks * aTick),
    lengthSeconds: seconds(note.lengthTicks * aTick),
    choice: choices[index] ?? index,
    where: places.get(tune.bars[note.bar]?.written ?? -1) ?? "bar 1",
  }));
}

/** A number for each note, the same for notes that are played alike. */
function choicesOf(tune: Tune, alike: Alike): readonly number[] {
  if (alike === "nothing") return tune.notes.map((note) => note.index);
  const numbers = new Map<string, number>();
  const numberOf = (key: string) => {
    const known = numbers.get(key) ?? numbers.size;
    numbers.set(key, known);
    return known;
  };
  // The pitch is part of the key: a reader may give a written note another pitch when it comes again.
  if (alike === "repeats") return tune.notes.map((note) => numberOf(`${note.written} ${note.midi}`));
  return notesByBar(tune).flatMap((notes) => {
    const content = contentOf(notes, tune.bars);
    return notes.map((_, place) => numberOf(`${content} at ${place}`));
  });
}

function notesByBar(tune: Tune): readonly (readonly TuneNote[])[] {
  const bars: TuneNote[][] = [];
  for (const note of tune.notes) {
    const last = bars.at(-1);
    if (last?.[0]?.bar === note.bar) last.push(note);
    else bars.push([note]);
  }
  return bars;
}

/** Pitches, onsets and lengths of the notes that begin in a bar. */
function contentOf(notes: readonly TuneNote[], bars: readonly TuneBar[]): string {
  const begin = bars[notes[0]?.bar ?? 0]?.startTicks ?? 0;
  return notes.map((note) => `${note.midi} ${note.startTicks - begin} ${note.lengthTicks}`).join(", ");
}

/** What players call each written bar: pick-ups are not counted. */
function barPlaces(bars: readonly TuneBar[]): ReadonlyMap<number, string> {
  const written = new Map(bars.map((bar) => [bar.written, bar]));
  const places = new Map<number, string>();
  let number = 0;
  for (const [index, bar] of [...written].sort(([one], [other]) => one - other)) {
    if (bar.kind !== "pick-up") number++;
    places.set(index, bar.kind === "pick-up" ? `pick-up to bar ${number + 1}` : `bar ${number}`);
  }
  return places;
}

/** The line moved up by so many semitones. */
export function shiftLine(line: Line, semitones: number): Line {
  return semitones === 0 ? line : line.map((note) => ({ ...note, midi: midi(note.midi + semitones) }));
}
