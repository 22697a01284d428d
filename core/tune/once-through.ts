import { ticks } from "../units.ts";
import { type Metre, TICKS_PER_SEMIBREVE, type Tune, type TuneBar, type TuneNote } from "./tune.ts";

/** A tune with each written bar once, as it stands on the page. */
export interface OnceThrough {
  readonly tune: Tune;
  /** For each of its notes the place in the tune that was played out. */
  readonly from: readonly number[];
}

/**
 * Each written bar once, in the order they are first played. Where a bar falls short of its bar line and no upbeat follows,
 * as at a first ending, it is filled up, so that later bar lines stay where they are.
 */
export function onceThrough(tune: Tune): OnceThrough {
  const bars: TuneBar[] = [];
  const notes: TuneNote[] = [];
  const chords: Tune["chords"][number][] = [];
  const from: number[] = [];
  let at = 0;
  let barLine = 0;
  for (const bar of tune.bars) {
    if (bar.pass > 0) continue;
    // Before a whole bar stands a bar line; the first one may lie behind an upbeat.
    if (bar.kind !== "pick-up" && bars.length > 0 && bars.at(-1)?.kind !== "pick-up")
      at = barLine + upTo(at - barLine, bar.metre);
    if (bar.kind !== "pick-up") barLine = at;
    const by = at - bar.startTicks;
    const index = bars.length;
    bars.push({ ...bar, index, startTicks: ticks(at) });
    for (const note of tune.notes) {
      if (note.bar !== bar.index) continue;
      from.push(note.index);
      notes.push({ ...note, index: notes.length, bar: index, startTicks: ticks(note.startTicks + by) });
    }
    const end = bar.startTicks + bar.lengthTicks;
    for (const chord of tune.chords) {
      if (chord.atTicks >= bar.startTicks && chord.atTicks < end)
        chords.push({ ...chord, atTicks: ticks(chord.atTicks + by) });
    }
    at += bar.lengthTicks;
  }
  return { tune: { ...tune, bars, notes, chords }, from };
}

/** Ticks to the next bar line at or after a place in a bar. */
function upTo(ticksIn: number, metre: Metre | null): number {
  if (metre === null) return ticksIn;
  const bar = (metre.beats * TICKS_PER_SEMIBREVE) / metre.unit;
  return bar * Math.ceil(ticksIn / bar - 1e-9);
}
