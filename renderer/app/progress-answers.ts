import type { GroupDay, ItemDay } from "../../core/progress/counts/roll-ups.ts";
import { dayOfNumber, daysAfter } from "../../core/progress/practice-day.ts";
import type { Scope } from "../../core/progress/trends/trend.ts";
import { trendsOf } from "../../core/progress/trends/trends.ts";
import { comparablesOf, reedComparablesOf, sameScope } from "../progress/comparables.ts";
import type {
  AskKind,
  Days,
  MinutesAnswer,
  ProgressAnswers,
  TrendsAnswer,
  TrendsAsk,
  WeakSpotsAnswer,
  WeakSpotsAsk,
  Weeks,
} from "../progress/progress-view.ts";
import type { ProgressSources } from "./progress-sources.ts";
import { weakSpotsOfDays } from "./weak-spots-answer.ts";

/** Before and after any day that can have been practised on. */
const [EVER, EVERMORE] = [dayOfNumber(-700_000), dayOfNumber(2_900_000)];

/** Answers a question from the rows of the days it is about. Rejects with a StoreTrouble. */
export async function answerProgress<Kind extends AskKind>(
  sources: ProgressSources,
  kind: Kind,
  ask: ProgressAnswers[Kind]["ask"],
): Promise<ProgressAnswers[Kind]["answer"]> {
  switch (kind) {
    case "trends":
      return trends(sources, ask as TrendsAsk);
    case "weak spots":
      return weakSpots(sources, ask as WeakSpotsAsk);
    default:
      return minutes(sources);
  }
}

const minutes = async ({ progress }: ProgressSources): Promise<MinutesAnswer> => ({
  days: await progress.days(EVER, EVERMORE),
});

/** The days up to the last one practised on: who comes back after a summer finds what was before it. */
async function daysOf({ progress }: ProgressSources, weeks: Weeks): Promise<Days | null> {
  const all = await progress.days(EVER, EVERMORE);
  const [first, last] = [all[0], all.at(-1)];
  if (first === undefined || last === undefined) return null;
  return { from: weeks === null ? first.day : daysAfter(last.day, 1 - 7 * weeks), to: last.day };
}

async function weakSpots(sources: ProgressSources, ask: WeakSpotsAsk): Promise<WeakSpotsAnswer> {
  const days = await daysOf(sources, ask.weeks);
  return days === null ? { days } : weakSpotsOfDays(sources, days, ask);
}

async function trends(sources: ProgressSources, ask: TrendsAsk): Promise<TrendsAnswer> {
  const days = await daysOf(sources, ask.weeks);
  if (days === null) return { days };
  const groupDays = await sources.progress.groupDays(days.from, days.to);
  const reedDays = isOfReeds(ask.kind) ? await sources.progress.reedDays(days.from, days.to) : [];
  const comparables = isOfReeds(ask.kind)
    ? reedComparablesOf(ask.kind, reedDays, harpNames(groupDays), ask.order)
    : comparablesOf(ask.kind, groupDays, ask.order);
  const chosen = comparables.find(({ scope }) => ask.scope !== null && sameScope(scope, ask.scope));
  const of = chosen ?? comparables[0];
  if (of === undefined) return { days, comparables, shown: null };
  const itemDays = await itemDaysOf(sources, of.scope, groupDays, days);
  const view = trendsOf({ groupDays, itemDays, reedDays }, [of.scope]);
  return { days, comparables, shown: { of, view } };
}

/** Tempi reached are kept by item. */
async function itemDaysOf(
  { progress }: ProgressSources,
  scope: Scope,
  groupDays: readonly GroupDay[],
  { from, to }: Days,
): Promise<readonly ItemDay[]> {
  if (scope.kind !== "item" && scope.kind !== "tune") return [];
  const items = new Set(groupDays.filter((row) => isWithin(scope, row)).map(({ item }) => item));
  const rows = await Promise.all([...items].map((item) => progress.itemDays(item)));
  return rows.flat().filter(({ day }) => day >= from && day <= to);
}

function isWithin(scope: Scope, { group, item, like, what }: GroupDay): boolean {
  switch (scope.kind) {
    case "all":
      return true;
    case "group":
      return group === scope.group;
    case "item":
      return item === scope.item;
    case "tune":
      return what.tuneId === scope.tuneId;
    case "position":
      return what.position === scope.position;
    case "reed":
    case "pair":
      return like.harp === scope.harp;
  }
}

const isOfReeds = (kind: Scope["kind"]): kind is "reed" | "pair" => kind === "reed" || kind === "pair";

/** What a harp is called, told by its key; those of one name by their layout too. */
function harpNames(rows: readonly GroupDay[]): (key: string) => string {
  const names = new Map(rows.map(({ like, what }) => [like.harp, what.harp]));
  return (key) => {
    const name = names.get(key) ?? "another harp";
    const shared = [...names.values()].filter((one) => one === name).length > 1;
    return shared ? `${name} (${key.split(" ")[0]})` : name;
  };
}
