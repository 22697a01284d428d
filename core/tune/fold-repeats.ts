import { MOST_TIMES } from "./abc/limits.ts";
import { playingOrder } from "./playing-order.ts";
import type { Tune } from "./tune.ts";
import type { WrittenBar } from "./written-bar.ts";

type Signs = Pick<WrittenBar, "repeatFrom" | "repeatTo" | "ending" | "doubleBar">;

/** A bar as it is to be written, its signs, and every time it is played. */
export interface FoldedBar extends Signs {
  /** Places in `Tune.bars`, first pass first; the bars are alike. */
  readonly passes: readonly number[];
  /** Numbers of the ending that ends here. */
  readonly endingEnds: readonly number[] | null;
}

/**
 * A tune in playing order as it can be written: bars that are played again the same, by their number and their notes, become
 * repeats with endings. Whatever does not fold into exactly the same order of playing is written out.
 */
export function foldRepeats(tune: Tune): readonly FoldedBar[] {
  const same = firstAlike(tune);
  const folded = withDoubleBars(tune, new Folder(same).fold());
  const order = playingOrder(asWritten(folded), same.length).bars;
  const plays = order.map((at) => same[folded[at]?.passes[0] ?? -1]);
  const exact = plays.length === same.length && plays.every((bar, index) => bar === same[index]);
  if (exact && !tiedOverSigns(tune, folded)) return folded;
  return withDoubleBars(
    tune,
    same.map((_, bar) => plain(bar)),
  );
}

const plain = (bar: number): FoldedBar => ({ ...NO_SIGNS, passes: [bar] });

const NO_SIGNS = { repeatFrom: 0, repeatTo: 0, ending: null, endingEnds: null, doubleBar: false } as const;

/** A double bar line where a strain ends; a repeat sign says it already. */
function withDoubleBars(tune: Tune, folded: readonly FoldedBar[]): readonly FoldedBar[] {
  const strainOf = (bar: FoldedBar | undefined) => tune.bars[bar?.passes[0] ?? -1]?.strain;
  return folded.map((bar, at) => {
    const next = folded[at + 1];
    const ends = next !== undefined && strainOf(next) !== strainOf(bar);
    return { ...bar, doubleBar: ends && bar.repeatTo === 0 };
  });
}

function asWritten(folded: readonly FoldedBar[]) {
  const bars = folded.map(
    (bar): WrittenBar => ({
      ...bar,
      notes: [],
      chords: [],
      lengthTicks: 0,
      metre: null,
      closed: true,
      part: null,
      segno: false,
      coda: false,
      toCoda: false,
      fine: false,
      jump: null,
    }),
  );
  return { bars, partOrder: null };
}

/** For each bar the first one like it: same number as written, same notes, same time held over from before. */
function firstAlike(tune: Tune): readonly number[] {
  const first = new Map<string, number>();
  return barContents(tune).map((content, bar) => {
    const known = first.get(content);
    if (known === undefined) first.set(content, bar);
    return known ?? bar;
  });
}

function barContents(tune: Tune): readonly string[] {
  const held = heldInto(tune);
  const notes = tune.bars.map((): unknown[] => []);
  for (const note of tune.notes) {
    const start = note.startTicks - (tune.bars[note.bar]?.startTicks ?? 0);
    notes[note.bar]?.push([
      start,
      note.lengthTicks,
      note.midi,
      note.name,
      note.ornaments,
      note.chord ?? null,
    ]);
  }
  const symbols = symbolsByBar(tune);
  return tune.bars.map((bar, at) =>
    JSON.stringify([
      bar.written,
      bar.lengthTicks,
      bar.metre,
      bar.kind,
      bar.strain,
      held[at],
      notes[at],
      symbols[at],
    ]),
  );
}

/** Ticks at each bar's start that belong to a note begun before it, and its pitch. */
function heldInto(tune: Tune): readonly (readonly [number, number])[] {
  const held = tune.bars.map((): readonly [number, number] => [0, 0]);
  for (const note of tune.notes) {
    const end = note.startTicks + note.lengthTicks;
    for (let bar = note.bar + 1; bar < tune.bars.length; bar++) {
      const start = tune.bars[bar]?.startTicks ?? end;
      if (start >= end) break;
      held[bar] = [end - start, note.midi];
    }
  }
  return held;
}

function symbolsByBar(tune: Tune): readonly (readonly (readonly [number, string])[])[] {
  const found = tune.bars.map((): [number, string][] => []);
  let bar = 0;
  for (const { atTicks, symbol } of tune.chords) {
    while (bar + 1 < tune.bars.length && (tune.bars[bar + 1]?.startTicks ?? 0) <= atTicks) bar++;
    found[bar]?.push([atTicks - (tune.bars[bar]?.startTicks ?? 0), symbol]);
  }
  return found;
}

/** Whether a note is held into a bar that does not simply follow: programs do not agree on what such a tie means. */
function tiedOverSigns(tune: Tune, folded: readonly FoldedBar[]): boolean {
  const held = heldInto(tune);
  return folded.some((bar, at) => {
    const afterSign = (folded[at - 1]?.repeatTo ?? 0) > 0 || bar.repeatFrom > 0 || bar.ending !== null;
    return afterSign && bar.passes.some((pass) => (held[pass]?.[0] ?? 0) > 0);
  });
}

/** A stretch of bars of one pass: from `from` up to, without, `to`. */
interface Stretch {
  readonly from: number;
  readonly to: number;
}

interface PlayedEnding {
  readonly from: number;
  to: number;
  readonly numbers: number[];
  /** Where each time it is played begins. */
  readonly plays: number[];
}

class Folder {
  readonly #same: readonly number[];
  readonly #out: FoldedBar[] = [];

  constructor(same: readonly number[]) {
    this.#same = same;
  }

  fold(): readonly FoldedBar[] {
    let at = 0;
    while (at < this.#same.length) {
      const end = this.#endOfNew(at);
      const back = this.#same[end] ?? -1;
      this.#plain(at, back < at ? end : back);
      if (back < at) {
        // Either all is written, or what comes was played before this section: it is written out.
        if (end < this.#same.length) this.#plain(end, end + 1);
        at = end + 1;
      } else at = this.#section({ from: back, to: end });
    }
    return this.#out;
  }

  /** The first bar from `at` on that was played before. */
  #endOfNew(at: number): number {
    let end = at;
    while (end < this.#same.length && this.#same[end] === end) end++;
    return end;
  }

  #plain(from: number, to: number): void {
    for (let bar = from; bar < to; bar++) this.#out.push(plain(bar));
  }

  /** Writes a section whose first bar is played again right after it; answers where the tune goes on. */
  #section(first: Stretch): number {
    const length = first.to - first.from;
    let end = first.to;
    let times = 1;
    while (times < MOST_TIMES && this.#alike(first.from, end) >= length) {
      times++;
      end += length;
    }
    if (times > 1) {
      this.#repeated(first, times);
      return end;
    }
    return this.#withEndings(first) ?? this.#asPlayed(first);
  }

  #asPlayed(first: Stretch): number {
    this.#plain(first.from, first.to);
    return first.to;
  }

  /** How many bars from `at` on are those from `from` on. */
  #alike(from: number, at: number): number {
    let count = 0;
    while (at + count < this.#same.length && this.#same[at + count] === from + count && from + count < at)
      count++;
    return count;
  }

  #repeated({ from, to }: Stretch, times: number): void {
    for (let bar = from; bar < to; bar++) {
      const passes = Array.from({ length: times }, (_, pass) => bar + pass * (to - from));
      const repeatFrom = bar === from ? times : 0;
      this.#out.push({ ...NO_SIGNS, passes, repeatFrom, repeatTo: bar === to - 1 ? times : 0 });
    }
  }

  /** Passes that begin alike and end each in its own way; null where it is not so. */
  #withEndings(first: Stretch): number | null {
    const common = this.#alike(first.from, first.to);
    if (common === 0) return null;
    const starts = [first.from];
    const firstEnding = {
      from: first.from + common,
      to: first.to,
      numbers: [1],
      plays: [first.from + common],
    };
    const endings: PlayedEnding[] = [firstEnding];
    let last = firstEnding;
    let end = first.to;
    while (this.#alike(first.from, end) >= common) {
      const from = end + common;
      starts.push(end);
      const known = endings.find((one) => this.#alike(one.from, from) >= one.to - one.from);
      last = known ?? { from, to: this.#endOfNew(from), numbers: [], plays: [] };
      if (last.to === last.from) return null;
      if (!known) endings.push(last);
      last.numbers.push(starts.length);
      last.plays.push(from);
      end = from + last.to - last.from;
    }
    if (endings.length < 2) return null;
    if (last.plays.length === 1) {
      // Nothing marks the end of the last ending: it is taken to be as long as the first.
      last.to = Math.min(last.to, last.from + first.to - first.from - common);
      end = last.to;
    }
    this.#common(common, starts);
    for (const ending of endings) this.#ending(ending, ending !== endings.at(-1));
    return end;
  }

  #common(count: number, starts: readonly number[]): void {
    for (let step = 0; step < count; step++) {
      const passes = starts.map((start) => start + step);
      this.#out.push({ ...NO_SIGNS, passes, repeatFrom: step === 0 ? 2 : 0 });
    }
  }

  #ending(ending: PlayedEnding, closes: boolean): void {
    for (let bar = ending.from; bar < ending.to; bar++) {
      const passes = ending.plays.map((start) => start + bar - ending.from);
      const first = bar === ending.from ? ending.numbers : null;
      const last = bar === ending.to - 1 ? ending.numbers : null;
      const repeatTo = closes && last !== null ? 2 : 0;
      this.#out.push({ ...NO_SIGNS, passes, ending: first, endingEnds: last, repeatTo });
    }
  }
}
