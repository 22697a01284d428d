import { TICKS_PER_SEMIBREVE, type Tune, type TuneNote } from "./tune.ts";

/** A number over notes: `actual` of them in the time of `normal`. */
export interface Tuplet {
  readonly actual: number;
  readonly normal: number;
  /** How many signs it holds, and which of them this is, from 0. */
  readonly count: number;
  readonly at: number;
}

/** A note or rest as a staff shows it: a value with at most two dots, joined by ties to others. */
export interface StaffSign {
  /** From the beginning of the bar. */
  readonly atTicks: number;
  readonly lengthTicks: number;
  /** Null for a rest. */
  readonly note: TuneNote | null;
  /** Goes on a note begun by an earlier sign. */
  readonly tiedFrom: boolean;
  readonly tiedOn: boolean;
  /** Chord symbols over its beginning. */
  readonly symbols: readonly string[];
  readonly tuplet: Tuplet | null;
}

/** The shortest undotted value, a 512th: every other is a multiple. */
const SHORTEST = TICKS_PER_SEMIBREVE / 512;
/** Usual numbers: 3 in the time of 2, 5 of 4, 7 of 4, 9 of 8, and threes within fives. */
const TUPLETS = [
  [3, 2],
  [5, 4],
  [7, 4],
  [9, 8],
  [15, 8],
] as const;

/**
 * The signs of every bar of a tune: notes cut at bar lines and at chord symbols, gaps as rests, odd lengths in tuplets or
 * cut into values joined by ties.
 *
 * @returns for each bar its signs, filling it
 * @throws RangeError if two notes overlap
 */
export function staffSigns(tune: Tune): readonly (readonly StaffSign[])[] {
  return spansByBar(tune).map((spans) => grouped(spans).flatMap(intoValues));
}

type Span = Omit<StaffSign, "tuplet">;

function spansByBar(tune: Tune): Span[][] {
  const notes = new Reel(tune.notes);
  const symbols = new Reel(tune.chords);
  return tune.bars.map((bar) => {
    const from: number = bar.startTicks;
    const to = from + bar.lengthTicks;
    const spans: Span[] = [];
    for (let at = from; at < to; ) {
      const note = notes.from((one) => one.startTicks + one.lengthTicks > at);
      const over = symbols.while((one) => one.atTicks <= at).map((one) => one.symbol);
      const next = symbols.peek()?.atTicks ?? to;
      const sounds = note !== null && note.startTicks <= at;
      const ends = !note ? to : sounds ? note.startTicks + note.lengthTicks : note.startTicks;
      const end = Math.min(to, ends, next);
      const following = sounds ? notes.after() : null;
      if (following && note && following.startTicks < note.startTicks + note.lengthTicks) {
        throw new RangeError(`notes ${note.index} and ${following.index} of the tune overlap`);
      }
      spans.push({
        atTicks: at - from,
        lengthTicks: end - at,
        note: sounds ? note : null,
        tiedFrom: sounds && note.startTicks < at,
        tiedOn: sounds && end < ends,
        symbols: over,
      });
      at = end;
    }
    return spans;
  });
}

/** Goes once through a list in order. */
class Reel<T> {
  readonly #list: readonly T[];
  #at = 0;

  constructor(list: readonly T[]) {
    this.#list = list;
  }

  /** The first from here on that is as asked; those before are left behind. */
  from(wanted: (one: T) => boolean): T | null {
    for (; this.#at < this.#list.length; this.#at++) {
      const one = this.#list[this.#at];
      if (one !== undefined && wanted(one)) return one;
    }
    return null;
  }

  after(): T | null {
    return this.#list[this.#at + 1] ?? null;
  }

  peek(): T | null {
    return this.#list[this.#at] ?? null;
  }

  while(wanted: (one: T) => boolean): readonly T[] {
    const start = this.#at;
    for (let one = this.peek(); one !== null && wanted(one); one = this.peek()) this.#at++;
    return this.#list.slice(start, this.#at);
  }
}

const isPlain = (lengthTicks: number) => lengthTicks % SHORTEST === 0;

/** Gathers spans that no plain value can show into tuplets that end on a plain place again. */
function grouped(spans: readonly Span[]): StaffSign[] {
  const signs: StaffSign[] = [];
  for (let at = 0; at < spans.length; ) {
    const group = tupletAt(spans, at);
    signs.push(...group);
    at += group.length;
  }
  return signs;
}

function tupletAt(spans: readonly Span[], at: number): StaffSign[] {
  const first = spans[at];
  if (first === undefined) return [];
  if (!isPlain(first.lengthTicks)) {
    for (const [actual, normal] of TUPLETS) {
      const count = tupletLength(spans.slice(at), actual / normal);
      if (count === 0) continue;
      return spans
        .slice(at, at + count)
        .map((span, place) => ({ ...span, tuplet: { actual, normal, count, at: place } }));
    }
  }
  return [{ ...first, tuplet: null }];
}

/** How many spans make a tuplet of this ratio; 0 if none do. */
function tupletLength(spans: readonly Span[], ratio: number): number {
  let total = 0;
  for (const [place, { lengthTicks }] of spans.entries()) {
    if (!isPlain(lengthTicks * ratio)) return 0;
    total += lengthTicks;
    if (isPlain(total)) return place + 1;
  }
  return 0;
}

/** Cuts a plain length that no value with up to two dots shows, such as five quavers, into tied values. */
function intoValues(sign: StaffSign): StaffSign[] {
  // A tuplet's signs are counted, so they stay whole.
  if (sign.tuplet !== null || !isPlain(sign.lengthTicks)) return [sign];
  const lengths = valuesOf(sign.lengthTicks);
  let at = sign.atTicks;
  return lengths.map((lengthTicks, place) => {
    const starts = at;
    at += lengthTicks;
    const sounds = sign.note !== null;
    return {
      ...sign,
      atTicks: starts,
      lengthTicks,
      tiedFrom: sounds && (sign.tiedFrom || place > 0),
      tiedOn: sounds && (sign.tiedOn || place < lengths.length - 1),
      symbols: place === 0 ? sign.symbols : [],
    };
  });
}

function valuesOf(lengthTicks: number): number[] {
  const values: number[] = [];
  for (let left = lengthTicks; left > 0; ) {
    const value = largestValue(left);
    values.push(value);
    left -= value;
  }
  return values;
}

/** Dots of a value: 0, 1 or 2; and the undotted one. */
const DOTTED = [7 / 4, 3 / 2, 1];
const LONGEST = 4 * TICKS_PER_SEMIBREVE;

function largestValue(atMost: number): number {
  for (let undotted = LONGEST; undotted >= SHORTEST; undotted /= 2) {
    const value = DOTTED.map((dots) => undotted * dots).find((one) => one <= atMost && isPlain(one));
    if (value !== undefined) return value;
  }
  return atMost;
}
