import { type Midi, ticks } from "../units.ts";
import { barKinds } from "./bar-kinds.ts";
import { playingOrder } from "./playing-order.ts";
import { strainsOf } from "./strains.ts";
import type { ChordAt, TuneBar, TuneNote } from "./tune.ts";
import type { WrittenBar, WrittenNote, WrittenTune } from "./written-bar.ts";

export interface PlayedOut {
  readonly bars: readonly TuneBar[];
  readonly notes: readonly TuneNote[];
  readonly chords: readonly ChordAt[];
  /** In words, what was asked for and could not be done. */
  readonly troubles: readonly string[];
}

export type PlayOut =
  | ({ readonly kind: "played" } & PlayedOut)
  | { readonly kind: "too long"; readonly what: "bars" | "notes" };

export interface PlayLimits {
  readonly bars: number;
  readonly notes: number;
}

/** A bar while it is being put together of the spans that have no bar line between them. */
interface OpenBar {
  readonly startTicks: number;
  lengthTicks: number;
  readonly written: number;
  readonly strain: string;
  readonly metre: TuneBar["metre"];
  lastWritten: number;
}

/** Lays a written tune out as it is played: bars and notes with onsets from the beginning, ties joined. */
export function playOut(tune: WrittenTune, limits: PlayLimits): PlayOut {
  const order = playingOrder(tune, limits.bars);
  if (order.bars.length > limits.bars) return { kind: "too long", what: "bars" };
  const strains = strainsOf(tune.bars);
  const numbers = writtenNumbers(tune.bars);
  const bars: OpenBar[] = [];
  const notes: MutableNote[] = [];
  const chords: ChordAt[] = [];
  let now = 0;
  let open = false;
  for (const index of order.bars) {
    const written = tune.bars[index];
    if (written === undefined) continue;
    const last = bars.at(-1);
    if (open && last !== undefined) {
      last.lengthTicks += written.lengthTicks;
      last.lastWritten = index;
    } else {
      bars.push({
        startTicks: now,
        lengthTicks: written.lengthTicks,
        written: numbers.bars[index] ?? 0,
        strain: strains[index] ?? "A",
        metre: written.metre,
        lastWritten: index,
      });
    }
    if (notes.length + written.notes.length > limits.notes) return { kind: "too long", what: "notes" };
    addNotes(notes, written, { now, bar: bars.length - 1, number: numbers.notes[index] ?? 0 });
    for (const { atTicks, symbol } of written.chords) chords.push({ atTicks: ticks(now + atTicks), symbol });
    now += written.lengthTicks;
    open = !written.closed;
  }
  return {
    kind: "played",
    bars: finishBars(bars, tune.bars),
    notes: notes.map(({ tiedOn: _, ...note }, index) => ({ ...note, index })),
    chords,
    troubles: order.troubles,
  };
}

interface MutableNote extends Omit<TuneNote, "index" | "lengthTicks" | "ornaments"> {
  lengthTicks: TuneNote["lengthTicks"];
  ornaments: TuneNote["ornaments"];
  tiedOn: boolean;
}

/** Numbers of bars and of each bar's first note as written. */
function writtenNumbers(written: readonly WrittenBar[]) {
  const bars: number[] = [];
  const notes: number[] = [];
  let bar = 0;
  let note = 0;
  for (const one of written) {
    bars.push(bar);
    notes.push(note);
    note += one.notes.length;
    if (one.closed) bar++;
  }
  return { bars, notes };
}

function addNotes(
  notes: MutableNote[],
  written: WrittenBar,
  { now, bar, number }: { readonly now: number; readonly bar: number; readonly number: number },
): void {
  for (const [place, note] of written.notes.entries()) {
    const start = now + note.atTicks;
    const before = notes.at(-1);
    if (before?.tiedOn === true && joins(before, note, start)) {
      before.lengthTicks = ticks(before.lengthTicks + note.lengthTicks);
      before.tiedOn = note.tiedOn;
      // A fermata or grace notes at the end of what is tied belong to the one note it is.
      before.ornaments = [...before.ornaments, ...note.ornaments];
      continue;
    }
    notes.push({
      startTicks: ticks(start),
      lengthTicks: ticks(note.lengthTicks),
      midi: note.midi,
      name: note.name,
      bar,
      written: number + place,
      place: note.place,
      ornaments: note.ornaments,
      ...chordOf(note.chord),
      tiedOn: note.tiedOn,
    });
  }
}

const chordOf = (chord: readonly Midi[]) => (chord.length === 0 ? {} : { chord });

/** A tie joins the same pitch without a gap; wherever playing goes on, be it back to the beginning of a repeat. */
function joins(before: MutableNote, note: WrittenNote, start: number): boolean {
  return before.midi === note.midi && before.startTicks + before.lengthTicks === start;
}

function finishBars(bars: readonly OpenBar[], written: readonly WrittenBar[]): readonly TuneBar[] {
  const kinds = barKinds(
    bars.map(({ lengthTicks, metre, strain, lastWritten }) => {
      const last = written[lastWritten];
      const edge = last === undefined || last.doubleBar || last.repeatTo > 0;
      return { lengthTicks, metre, strain, edge };
    }),
  );
  const edges = new Map<number, TuneBar["kind"]>();
  for (const [index, { written: number }] of bars.entries()) {
    const kind = kinds[index];
    if (kind === "pick-up" || kind === "short end") edges.set(number, kind);
  }
  // What ends short before an upbeat once is a short end each time, even where the upbeat does not follow.
  const kindOf = (number: number, kind: TuneBar["kind"] = "whole") =>
    kind === "irregular" ? (edges.get(number) ?? kind) : kind;
  const passes = new Map<number, number>();
  return bars.map(({ startTicks, lengthTicks, written: number, strain, metre }, index) => {
    const pass = passes.get(number) ?? 0;
    passes.set(number, pass + 1);
    return {
      index,
      startTicks: ticks(startTicks),
      lengthTicks: ticks(lengthTicks),
      written: number,
      pass,
      metre,
      strain,
      kind: kindOf(number, kinds[index]),
    };
  });
}
