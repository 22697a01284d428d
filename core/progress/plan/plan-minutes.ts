import { itemIfPlayed } from "../counts/session-fact.ts";
import type { Candidates } from "./plan-candidates.ts";
import { PLAN_KINDS, type PlanKind, type PlanPart, type PlayedLine, type Turns } from "./plan-shape.ts";

/** Room for one line. All of this is common practice, no source. */
interface Slot {
  readonly kind: PlanKind;
  readonly leastMinutes: number;
  readonly mostMinutes: number;
  /** Its share of the minutes, against the others. */
  readonly weight: number;
}

/** By importance: with little time what comes first stays. */
const SLOTS: readonly Slot[] = [
  { kind: "due", leastMinutes: 3, mostMinutes: 6, weight: 35 },
  { kind: "warm-up", leastMinutes: 1, mostMinutes: 5, weight: 10 },
  { kind: "weak pair", leastMinutes: 2, mostMinutes: 6, weight: 15 },
  { kind: "new", leastMinutes: 3, mostMinutes: 8, weight: 25 },
  { kind: "whole tune", leastMinutes: 2, mostMinutes: 6, weight: 15 },
];
/** What is done once more where there is time left, in this order again and again. */
const AGAIN: readonly PlanKind[] = ["due", "whole tune", "early", "new"];
const EARLY: Slot = { kind: "early", leastMinutes: 3, mostMinutes: 6, weight: 20 };

/** Two such lines make a run between rests. */
const FURTHER_MINUTES = 7;

/** So many parts take turns on one line at most, and each has at least so long. */
const MOST_PARTS: Readonly<Record<PlanKind, number>> = {
  "warm-up": 1,
  due: 3,
  "weak pair": 2,
  new: 1,
  early: 3,
  "whole tune": 1,
};
/** Who takes first what could stand on several lines. */
const TAKES_FIRST: readonly PlanKind[] = ["warm-up", "new", "weak pair", "whole tune", "due", "early"];
const LEAST_PART_MINUTES = 2;
/** Where there is nothing else left to play, a line goes on for as long as may be played without a rest. */
const LONGEST_LINE_MINUTES = 15;

const WHY: Readonly<Record<PlanKind, string>> = {
  "warm-up": "long tones first, played relaxed; stop and rest if you feel light-headed",
  due: "practised before, and its day has come",
  "weak pair": "the two changes that cost you most",
  new: "one new thing, by itself until it goes",
  early: "its day has not come, but there is time for it",
  "whole tune": "a whole tune, as at the dance",
};

/**
 * Lines that take so many minutes together, or fewer where there is too little to play; in the order they are played in, and
 * nothing on two of them.
 */
export function filledSlots(minutes: number, candidates: Candidates, known: Turns): readonly PlayedLine[] {
  const slots = chosenSlots(minutes, candidates);
  const shares = shared(minutes, slots);
  const taken = new Set<string>();
  const numbers = new Map<PlanKind, number>();
  const places = slots.map((_, place) => place).sort((one, other) => first(slots[one]) - first(slots[other]));
  const lines = places.flatMap((place): readonly PlayedLine[] => {
    const [kind, own] = [slots[place]?.kind, shares[place]];
    if (kind === undefined || own === undefined) return [];
    const number = (numbers.get(kind) ?? 0) + 1;
    numbers.set(kind, number);
    const parts = partsFor(
      own,
      kind,
      candidates[kind].filter(({ item }) => !taken.has(itemIfPlayed(item))),
    );
    for (const { item } of parts) taken.add(itemIfPlayed(item));
    return [lineOf(kind, number, own, parts, known)];
  });
  const empty = lines.find(({ parts }) => parts.length === 0);
  if (empty !== undefined) {
    // What it would have is on other lines: without that, others share its minutes.
    const { kind } = empty;
    const others = lines.filter((line) => line.kind !== kind).flatMap(({ parts }) => parts);
    const used = new Set(others.map(({ item }) => itemIfPlayed(item)));
    const rest = candidates[kind].filter(({ item }) => !used.has(itemIfPlayed(item)));
    return filledSlots(minutes, { ...candidates, [kind]: rest }, known);
  }
  return lines.sort((one, other) => PLAN_KINDS.indexOf(one.kind) - PLAN_KINDS.indexOf(other.kind));
}

const first = (slot: Slot | undefined) => (slot === undefined ? -1 : TAKES_FIRST.indexOf(slot.kind));

/** The first of those there are, as many as take turns on a line of so many minutes. */
export function partsFor(minutes: number, kind: PlanKind, from: readonly PlanPart[]): readonly PlanPart[] {
  const fits = Math.min(MOST_PARTS[kind], Math.floor(minutes / LEAST_PART_MINUTES));
  return from.slice(0, Math.max(1, fits));
}

export function lineOf(
  kind: PlanKind,
  number: number,
  minutes: number,
  parts: readonly PlanPart[],
  known: Turns,
): PlayedLine {
  return { kind, number, minutes, parts, turns: kind === "new" ? "blocked" : known, why: WHY[kind] };
}

/** The slots that have something to play and fit, and as many more as it takes to fill the minutes. */
function chosenSlots(minutes: number, candidates: Candidates): readonly Slot[] {
  const usual = SLOTS.filter(({ kind }) => candidates[kind].length > 0);
  const fitting: Slot[] = [];
  for (const slot of usual) {
    if (leastOf([...fitting, slot]) > minutes) break;
    fitting.push(slot);
  }
  if (fitting.length < usual.length) return fitting;
  for (const slot of furtherSlots(candidates)) {
    if (mostOf(fitting) >= minutes) return fitting;
    fitting.push(slot);
  }
  return mostOf(fitting) >= minutes
    ? fitting
    : fitting.map((slot) => ({ ...slot, mostMinutes: LONGEST_LINE_MINUTES }));
}

/** Lines beyond the first of each kind, as far as there are parts that no line has yet. */
function furtherSlots(candidates: Candidates): readonly Slot[] {
  const rounds = Math.max(...AGAIN.map((kind) => candidates[kind].length));
  return Array.from({ length: rounds }, (_, round) =>
    [...SLOTS, EARLY].filter(({ kind }) => {
      const lines = kind === "early" ? round : round + 1;
      return AGAIN.includes(kind) && candidates[kind].length > lines * MOST_PARTS[kind];
    }),
  )
    .flatMap((slots) => slots.sort((one, other) => AGAIN.indexOf(one.kind) - AGAIN.indexOf(other.kind)))
    .map((slot) => ({ ...slot, mostMinutes: Math.min(slot.mostMinutes, FURTHER_MINUTES) }));
}

const leastOf = (slots: readonly Slot[]) => slots.reduce((sum, slot) => sum + slot.leastMinutes, 0);
const mostOf = (slots: readonly Slot[]) => slots.reduce((sum, slot) => sum + slot.mostMinutes, 0);

/**
 * Whole minutes for each slot by its weight, from its least to its most: one minute after the other to whom most is owed
 * (highest averages, as seats are given by Webster and Sainte-Laguë).
 */
function shared(minutes: number, slots: readonly Slot[]): readonly number[] {
  const shares = slots.map(({ leastMinutes }) => leastMinutes);
  for (let left = minutes - leastOf(slots); left > 0; left--) {
    const owed = slots.map(({ weight, mostMinutes }, place) => {
      const has = shares[place] ?? 0;
      return has >= mostMinutes ? 0 : weight / (has + 0.5);
    });
    const most = Math.max(0, ...owed);
    if (most === 0) break;
    const place = owed.indexOf(most);
    shares[place] = (shares[place] ?? 0) + 1;
  }
  return shares;
}
