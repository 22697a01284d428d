import { EQUAL, temperamentName } from "../../instrument/temperament.ts";
import { reedInWords } from "../measure/measure-words.ts";
import { type ReedPlace, samePlace } from "../measure/reed-reading.ts";
import { REED_WORK_CAUTION } from "../reed-work-caution.ts";
import { BENCH_ADVICE, WARMTH_ADVICE } from "./bench-advice.ts";
import type { Pass, PassStep } from "./passes.ts";
import { reedNamer } from "./reed-names.ts";
import type { PlannedReed } from "./reed-work.ts";
import type { RetuningPlan } from "./retuning-plan.ts";
import {
  beatsInWords,
  donorInWords,
  pairInWords,
  planInWords,
  restInWords,
  signedCents,
  valveInWords,
  wayInWords,
  workInWords,
  workMeans,
} from "./retuning-words.ts";

/** What stands on the paper that lies on the bench: words alone, with blanks where the player writes. */
export interface BenchSheet {
  readonly title: string;
  readonly lines: readonly string[];
  readonly caution: string;
  readonly advice: readonly string[];
  /** What the words for the work mean. */
  readonly means: readonly string[];
  /** What is done before tuning; may be empty. */
  readonly first: readonly string[];
  readonly passes: readonly SheetPass[];
  /** The reeds to work on in their order, then the others hole by hole: all there are. */
  readonly rows: readonly SheetRow[];
  readonly pairs: readonly SheetPair[];
}

export interface SheetPass {
  readonly name: string;
  /** "rest a week"; empty after the last. */
  readonly rest: string;
}

export interface SheetRow {
  /** Its place in the order of the work; null for a reed that stays as it is. */
  readonly order: number | null;
  readonly reed: string;
  readonly noteNow: string;
  /** What was measured, as a meter reads it; null where nothing was: then it is a blank. */
  readonly readingNow: string | null;
  readonly noteWanted: string;
  readonly change: string;
  readonly work: string;
  /** What the meter should read after each pass, in cents from the wanted note; null where the reed is only read. */
  readonly aims: readonly (string | null)[];
}

export interface SheetPair {
  readonly pair: string;
  readonly beats: string;
}

/** The sheet of a plan. */
export function benchSheet(plan: RetuningPlan): BenchSheet {
  const { from, to, passes, pairs } = plan;
  const order = passes[0]?.steps ?? [];
  const placeOf = (reed: PlannedReed) => order.findIndex((step) => samePlace(step, reed.change));
  const worked = plan.reeds
    .filter((reed) => placeOf(reed) >= 0)
    .sort((one, other) => placeOf(one) - placeOf(other));
  const others = plan.reeds.filter((reed) => placeOf(reed) < 0);
  const names = { now: reedNamer(from), wanted: reedNamer(to) };
  return {
    title: `Retuning: ${wayInWords(from, to)}`,
    lines: [
      planInWords(plan),
      `Meter on A ${to.a4} Hz; temperament wanted: ${temperamentName(to.temperament ?? EQUAL)}. What is read before counts in cents from the note now, aims from the note wanted.`,
    ],
    caution: REED_WORK_CAUTION,
    advice: [...BENCH_ADVICE, WARMTH_ADVICE],
    means: workMeans(plan.reeds.map(({ work }) => work)),
    first: firstOf(plan),
    passes: passes.map(({ number, restDays }) => ({ name: `Pass ${number}`, rest: restInWords(restDays) })),
    rows: [
      ...worked.map((reed, place) => rowOf(reed, place + 1, passes, names)),
      ...others.map((reed) => rowOf(reed, null, passes, names)),
    ],
    pairs: pairs.map((pair) => ({ pair: pairInWords(pair), beats: beatsInWords(pair) })),
  };
}

/** Valves, reeds that come out and reeds that are swapped: before anything is tuned. */
function firstOf(plan: RetuningPlan): readonly string[] {
  const swaps = swapsInWords(plan.reeds);
  const idle = plan.idle.map((reed) => `${reedInWords(reed)}: no reed is wanted here; block the slot.`);
  const valves = plan.valves.map((valve) => `${valveInWords(valve)}.`);
  return [...swaps, ...idle, ...valves.map(capitalised), ...unreadInWords(plan.unmeasured)];
}

/** Beyond so many their names say less than their number. */
const MOST_NAMED = 8;

function unreadInWords(places: readonly ReedPlace[]): readonly string[] {
  if (places.length === 0) return [];
  const which = places.length > MOST_NAMED ? `${places.length} reeds` : places.map(reedInWords).join(", ");
  return [`Not read before, taken as they should sound: ${which}.`];
}

/** Reeds from one harp, with as much left to tune, in one line. */
function swapsInWords(reeds: readonly PlannedReed[]): readonly string[] {
  const places = new Map<string, string[]>();
  for (const { change, work } of reeds) {
    if (work.kind !== "swap") continue;
    const source = donorInWords(work) ?? "no harp of the catalogue has one near enough in that place";
    const line = `${workInWords(work)}: ${source}`;
    places.set(line, [...(places.get(line) ?? []), reedInWords(change)]);
  }
  return [...places].map(([line, names]) => `${capitalised(line).replace(":", ` ${names.join(", ")}:`)}.`);
}

const capitalised = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

interface Names {
  readonly now: ReturnType<typeof reedNamer>;
  readonly wanted: ReturnType<typeof reedNamer>;
}

function rowOf(reed: PlannedReed, order: number | null, passes: readonly Pass[], names: Names): SheetRow {
  const { change, work } = reed;
  const steps = passes.map(({ steps: all }) => all.find((step) => samePlace(step, change)) ?? null);
  return {
    order,
    reed: reedInWords(change),
    noteNow: names.now(change.noteNow),
    readingNow: change.measuredOffCents === null ? null : signedCents(change.nowCents),
    noteWanted: names.wanted(change.noteWanted),
    change: signedCents(change.changeCents),
    work: workInWords(work),
    aims: order === null ? passes.map(() => null) : steps.map(aimOf),
  };
}

const aimOf = (step: PassStep | null) =>
  step === null || step.onlyCheck ? null : signedCents(step.aimCents);
