import { LIMITS, moreThan } from "../../reading/limits.ts";
import { type Metre, TICKS_PER_SEMIBREVE } from "../tune.ts";
import { TuneFault } from "../tune-fault.ts";
import { metreTicks } from "../written-bar.ts";

/** A bar between time signatures; times in ticks of a tune. */
export interface MidiBar {
  readonly start: number;
  readonly length: number;
  readonly metre: Metre;
  /** A strain ends with it: the next bar is the upbeat that makes it whole. */
  readonly ends: boolean;
}

interface Change {
  readonly at: number;
  readonly metre: Metre;
}

const COMMON: Metre = { beats: 4, unit: 4 };

/**
 * Bars of a file, up to its last note. A time signature for one short bar at the beginning, or for two that make a whole one,
 * is how programs write an upbeat: such bars have the metre of the tune.
 *
 * @param upbeat ticks before the first bar line, 0 if none
 * @throws TuneFault where there are too many
 */
export function midiBars(changes: readonly Change[], end: number, upbeat: number): readonly MidiBar[] {
  const metres = inOrder(changes);
  const bars: MidiBar[] = [];
  let at = upbeat;
  let turn = 0;
  if (upbeat > 0) bars.push({ start: 0, length: upbeat, metre: metres[0]?.metre ?? COMMON, ends: false });
  while (at < end || bars.length === 0) {
    if (bars.length >= LIMITS.tuneBars.most) throw new TuneFault(moreThan(LIMITS.tuneBars));
    while (turn < metres.length && (metres[turn]?.at ?? 0) <= at) turn++;
    const metre = metres[turn - 1]?.metre ?? COMMON;
    // A new time signature begins a bar, whatever the old one would have had.
    const next = Math.min(metres[turn]?.at ?? Number.POSITIVE_INFINITY, at + metreTicks(metre));
    bars.push({ start: at, length: next - at, metre, ends: false });
    at = next;
  }
  return withUpbeats(bars);
}

function inOrder(changes: readonly Change[]): readonly Change[] {
  const byPlace = new Map([...changes].sort((one, other) => one.at - other.at).map((one) => [one.at, one]));
  return [...byPlace.values()];
}

function withUpbeats(bars: readonly MidiBar[]): readonly MidiBar[] {
  const main = mainMetre(bars);
  const whole = metreTicks(main);
  const short = (bar: MidiBar | undefined) =>
    bar !== undefined && bar.length < whole && !same(bar.metre, main) && bar.length === metreTicks(bar.metre);
  const first = bars[0];
  const upbeat = first !== undefined && short(first) ? first.length : 0;
  return bars.map((bar, at) => {
    if (!short(bar)) return bar;
    const makes = (other: MidiBar | undefined) => short(other) && bar.length + (other?.length ?? 0) === whole;
    const ends = makes(bars[at + 1]);
    const last = at === bars.length - 1 && bar.length + upbeat === whole;
    return at === 0 || ends || last || makes(bars[at - 1]) ? { ...bar, metre: main, ends } : bar;
  });
}

/** The metre that takes most of the time. */
function mainMetre(bars: readonly MidiBar[]): Metre {
  const times = new Map<string, { metre: Metre; length: number }>();
  for (const { metre, length } of bars) {
    const name = `${metre.beats}/${metre.unit}`;
    times.set(name, { metre, length: length + (times.get(name)?.length ?? 0) });
  }
  const [first] = times.values();
  return [...times.values()].reduce(
    (best, next) => (next.length > best.length ? next : best),
    first ?? { metre: COMMON, length: 0 },
  ).metre;
}

const same = (one: Metre, other: Metre) => one.beats === other.beats && one.unit === other.unit;

/** Ticks of a tune for a place in a file. */
export const tuneTicks = (fileTicks: number, ticksPerCrotchet: number): number =>
  Math.round((fileTicks * TICKS_PER_SEMIBREVE) / (4 * ticksPerCrotchet));
