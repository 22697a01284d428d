import { seededRandom } from "../../exercise/seeded-random.ts";
import { readRungId } from "../../exercise/tune-ladder.ts";
import { positionName } from "../../instrument/positions.ts";
import { tuneItem } from "../counts/likeness.ts";
import { itemIfPlayed } from "../counts/session-fact.ts";
import { dayNumber, type PracticeDay } from "../practice-day.ts";
import { type DueItem, dueItems, suspendedItems } from "../revisit/revisit-due.ts";
import { drillPart, drillsToTry, pairDrill, warmUpDrills } from "./plan-drills.ts";
import type { PlanInput, PlanKind, PlanPart, PlanRung, PlanTune } from "./plan-shape.ts";
import { dayInWords } from "./plan-words.ts";

/** What could stand on lines of each kind, what matters most first. */
export type Candidates = Readonly<Record<PlanKind, readonly PlanPart[]>>;

/**
 * Everything a plan can choose from: nothing that was suspended, and beyond warming up nothing that was played today, or that the
 * player moved to a later day.
 */
export function candidatesOf(input: PlanInput): Candidates {
  const { items, wishes, day, drills } = input;
  const suspended = suspendedItems(wishes);
  const standing = dueItems(items, wishes, day);
  const today = new Set(items.flatMap(({ item, lastDay }) => (lastDay === day ? [itemIfPlayed(item)] : [])));
  const movedOn = new Set(
    standing.flatMap(({ row, state, moved }) => (moved && state === "later" ? [row.item] : [])),
  );
  const isNotMovedOn = (item: string) => !movedOn.has(item);
  const isOpenToday = (item: string) => isNotMovedOn(item) && !today.has(itemIfPlayed(item));
  const wanted = (parts: readonly (PlanPart | null)[], isAsked: (item: string) => boolean = () => true) =>
    parts.filter(
      (part): part is PlanPart => part !== null && !suspended.has(part.item) && isAsked(part.item),
    );
  const played = new Set(items.map(({ item }) => item));
  // What was made up is not asked for beside the same that was played.
  const dates = standing.filter(({ row }) => row.what.demo !== true || !played.has(itemIfPlayed(row.item)));
  const datesOf = (state: DueItem["state"]) =>
    wanted(
      dates.filter((one) => one.state === state).map((one) => duePart(one, day)),
      isOpenToday,
    );
  const warmUps = warmUpDrills(drills).map((spec) => drillPart(spec, "every note held for four beats"));
  const pairs = input.weakPairs.map((pair) => drillPart(pairDrill(drills, pair), pair.why));
  return {
    "warm-up": wanted(eachOnce(warmUps)),
    due: datesOf("due"),
    "weak pair": wanted(pairs, isNotMovedOn),
    new: wanted(newParts(input), isOpenToday),
    early: datesOf("later"),
    "whole tune": wanted(wholeTunes(input), isOpenToday),
  };
}

/** Where a harp has no other octave, another beginning is the same drill. */
function eachOnce(parts: readonly (PlanPart | null)[]): readonly (PlanPart | null)[] {
  const items = parts.map((part) => part?.item);
  return parts.filter((_, place) => items.indexOf(items[place]) === place);
}

function duePart({ row, why, dueDay, state, moved }: DueItem, day: PracticeDay): PlanPart {
  const { item, what, last } = row;
  const date = state === "later" ? `; due on ${dayInWords(dueDay, day)}` : moved ? "; moved here by you" : "";
  return {
    item,
    title: what.title,
    harp: what.harp,
    recipe: { kind: "attempt", id: last.id },
    why: why + date,
  };
}

/**
 * The next rungs of tunes, those being learned before one that nobody began, and drills not yet tried, in turn. Which comes first
 * the seed says.
 */
function newParts(input: PlanInput): readonly (PlanPart | null)[] {
  const { tunes, items, drills, seed } = input;
  const rungs = (status: PlanTune["status"]) =>
    [...byLastDay(tunes.filter((tune) => tune.status === status))]
      .reverse()
      .map((tune) => nextPart(tune, tune.next));
  const known = new Set(items.map(({ item }) => itemIfPlayed(item)));
  const why = `not tried yet in ${positionName(drills.position)} position`;
  const untried = drillsToTry(drills, seed)
    .map((spec) => drillPart(spec, why))
    .filter((part) => part !== null && !known.has(part.item));
  const steps = [...rungs("learning"), ...rungs("new")].filter((part) => part !== null);
  const tuneFirst = seededRandom(seed)() < TUNE_FIRST;
  return tuneFirst ? alternately(steps, untried) : alternately(untried, steps);
}

/** Two days in three the new thing is a step on in a tune; common practice, no source. */
const TUNE_FIRST = 2 / 3;

function alternately<T>(one: readonly T[], other: readonly T[]): readonly T[] {
  const places = Array.from({ length: Math.max(one.length, other.length) }, (_, place) => place);
  return places.flatMap((place) => [...one.slice(place, place + 1), ...other.slice(place, place + 1)]);
}

function nextPart({ tuneId, title, status }: PlanTune, rung: PlanRung | null): PlanPart | null {
  const read = rung === null ? null : readRungId(rung.id);
  if (rung === null || read === null) return null;
  const share = Math.round(100 * read.tempoShare);
  const step = status === "new" ? "the first rung of a tune not begun" : "the next rung of its ladder";
  return {
    item: tuneItem(tuneId, read.span, rung.id),
    title: `${title}, ${rung.words}`,
    harp: "",
    recipe: { kind: "tune", tuneId, rung: rung.id },
    why: `${step}, at ${share} % of the dance tempo`,
  };
}

/** Tunes at tempo, the one longest not played first; then those that rest, then those being learned that go as a whole. */
function wholeTunes({ tunes, day }: PlanInput): readonly (PlanPart | null)[] {
  return (["at tempo", "resting", "learning"] as const).flatMap((status) =>
    byLastDay(tunes.filter((tune) => tune.status === status)).map((tune) => {
      const part = nextPart(tune, tune.whole);
      const last = tune.lastDay === null ? "never" : `last on ${dayInWords(tune.lastDay, day)}`;
      return part === null ? null : { ...part, why: `${status}, played ${last}` };
    }),
  );
}

/** The longest not played first; by id where that is the same. */
function byLastDay(tunes: readonly PlanTune[]): readonly PlanTune[] {
  const number = ({ lastDay }: PlanTune) =>
    lastDay === null ? Number.NEGATIVE_INFINITY : dayNumber(lastDay);
  return [...tunes].sort((one, other) => {
    const [a, b] = [number(one), number(other)];
    return a === b ? (one.tuneId < other.tuneId ? -1 : 1) : a - b;
  });
}
