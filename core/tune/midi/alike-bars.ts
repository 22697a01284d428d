import { metreTicks, type WrittenBar } from "../written-bar.ts";

/** A strain of a dance is eight bars, of some four, of some sixteen [P]; with first and second endings only one of eight. */
const STRAINS = [
  { bars: 8, endings: false },
  { bars: 8, endings: true },
  { bars: 4, endings: false },
  { bars: 16, endings: false },
] as const;
/** Whole bars after which a strain is looked for again. */
const STEP = 4;
const MOST_ENDING_BARS = 2;

/**
 * A file of MIDI has everything played out. Strains whose bars come again exactly the same (notes, lengths, metre), up to
 * their first and second endings, are written once with repeat signs, as a player reads them. Shorter figures that come
 * again are music and no repeat. A silent rest of the last bar of all does not matter.
 *
 * @param bars as played, none with a sign of its own but double bars
 */
export function foldAlike(bars: readonly WrittenBar[]): readonly WrittenBar[] {
  const contents = bars.map(contentOf);
  const out: WrittenBar[] = [];
  let at = 0;
  while (at < bars.length) {
    // An upbeat may stand before the sign, and not be played again.
    const upbeat = isShort(bars[at]) && strainAt(bars, contents, at) === null ? 1 : 0;
    const strain = strainAt(bars, contents, at + upbeat);
    if (strain !== null) {
      out.push(...bars.slice(at, at + upbeat), ...strain.written);
      at += upbeat + strain.played;
      continue;
    }
    const step = Math.max(1, barsOf(bars, at, STEP) ?? bars.length - at);
    out.push(...bars.slice(at, at + step));
    at += step;
  }
  return out;
}

const isShort = (bar: WrittenBar | undefined): boolean =>
  bar !== undefined && bar.metre !== null && bar.lengthTicks < metreTicks(bar.metre);

interface FoundStrain {
  readonly written: readonly WrittenBar[];
  /** Bars it takes where it is played out. */
  readonly played: number;
}

function strainAt(bars: readonly WrittenBar[], contents: readonly Content[], at: number): FoundStrain | null {
  for (const { bars: whole, endings } of STRAINS) {
    const count = barsOf(bars, at, whole);
    if (count === null || at + 2 * count > bars.length) continue;
    const found = endings ? withEndings(bars, contents, at, count) : repeated(bars, contents, at, count);
    if (found !== null) return found;
  }
  return null;
}

/** How many bars from one on make so many whole ones, upbeats and short ends counted together; null if none do. */
function barsOf(bars: readonly WrittenBar[], at: number, whole: number): number | null {
  const metre = bars[at]?.metre ?? null;
  if (metre === null) return null;
  let left = whole * metreTicks(metre);
  let count = 0;
  for (; left > 0 && at + count < bars.length; count++) left -= bars[at + count]?.lengthTicks ?? 0;
  return left === 0 ? count : null;
}

function repeated(
  bars: readonly WrittenBar[],
  contents: readonly Content[],
  at: number,
  count: number,
): FoundStrain | null {
  const again = (from: number) =>
    from + count <= bars.length && alike(contents, at, from, count) && isCutClean(contents, from + count - 1);
  if (!isCutClean(contents, at - 1) || !isCutClean(contents, at + count - 1)) {
    // Its bars come again, and would a few bars later too: they are left as they are.
    const all = 2 * count;
    return alike(contents, at, at + count, count) ? { written: bars.slice(at, at + all), played: all } : null;
  }
  let times = 1;
  while (again(at + times * count)) times++;
  if (times < 2) return null;
  const written = bars.slice(at, at + count).map((bar, index) => ({
    ...bar,
    repeatFrom: index === 0 ? times : 0,
    repeatTo: index === count - 1 ? times : 0,
    doubleBar: false,
  }));
  return { written, played: times * count };
}

function withEndings(
  bars: readonly WrittenBar[],
  contents: readonly Content[],
  at: number,
  count: number,
): FoundStrain | null {
  const common = Array.from({ length: MOST_ENDING_BARS }, (_, index) => count - 1 - index).find((length) =>
    alike(contents, at, at + count, length),
  );
  const edges = [at - 1, at + count - 1, at + 2 * count - 1];
  if (common === undefined || common < 1) return null;
  if (![...edges, at + common - 1, at + count + common - 1].every((edge) => isCutClean(contents, edge)))
    return null;
  const written = [
    ...bars.slice(at, at + count).map((bar, index) => ({
      ...bar,
      repeatFrom: index === 0 ? 2 : 0,
      repeatTo: index === count - 1 ? 2 : 0,
      ending: index === common ? [1] : null,
      doubleBar: false,
    })),
    ...bars.slice(at + count + common, at + 2 * count).map((bar, index) => ({
      ...bar,
      ending: index === 0 ? [2] : null,
      doubleBar: index === count - common - 1,
    })),
  ];
  return { written, played: 2 * count };
}

interface Content {
  readonly notes: string;
  readonly metre: string;
  readonly lengthTicks: number;
  /** Where its last note ends. */
  readonly endTicks: number;
}

function contentOf({ notes, metre, lengthTicks }: WrittenBar): Content {
  return {
    notes: JSON.stringify(
      notes.map(({ atTicks, lengthTicks: length, midi, ornaments, chord }) => [
        atTicks,
        length,
        midi,
        ornaments,
        chord,
      ]),
    ),
    metre: JSON.stringify(metre),
    lengthTicks,
    endTicks: Math.max(0, ...notes.map((note) => note.atTicks + note.lengthTicks)),
  };
}

function alike(contents: readonly Content[], from: number, again: number, count: number): boolean {
  for (let index = 0; index < count; index++) {
    const [one, other] = [contents[from + index], contents[again + index]];
    if (one === undefined || other === undefined) return false;
    if (one.notes !== other.notes || one.metre !== other.metre) return false;
    const last = again + index === contents.length - 1;
    const sameLength = one.lengthTicks === other.lengthTicks;
    if (!sameLength && !(last && one.endTicks <= Math.min(one.lengthTicks, other.lengthTicks))) return false;
  }
  return true;
}

/** No note is held over the end of a bar. */
const isCutClean = (contents: readonly Content[], bar: number): boolean =>
  (contents[bar]?.endTicks ?? 0) <= (contents[bar]?.lengthTicks ?? 0);
