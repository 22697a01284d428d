/** Players by the hundred, asked what progress tells them. */
import { rollUp } from "../../../core/progress/counts/roll-ups.ts";
import type { MeasureTrend, TrendLine, TrendMeasure } from "../../../core/progress/trends/trend.ts";
import { trendsOf } from "../../../core/progress/trends/trends.ts";
import { CONDITIONS, type Condition, type Counted } from "./conditions.ts";
import { practise } from "./player.ts";
import { type Share, seedsOf, shareOfRow } from "./seeds.ts";
import { runSpots, SPOT_CONDITIONS, type SpotTold } from "./spots.ts";

/** What the players of one condition were told; counts of players. */
export interface Told {
  readonly players: number;
  readonly day: number;
  /** Of first attempts alone, where the days as a whole say so too. */
  readonly first: number;
  /** Players told of each measure. */
  readonly measures: Readonly<Partial<Record<TrendMeasure, number>>>;
  /** Notes of all days and players, and days. */
  readonly notes: number;
  readonly days: number;
}

export interface Results {
  readonly trends: readonly (readonly [string, Told])[];
  readonly spots: readonly (readonly [string, SpotTold])[];
}

const isChange = ({ verdict }: TrendLine) =>
  verdict === "better" || verdict === "worse" || verdict === "changed";

const COUNTS: Readonly<Record<Counted, (trend: MeasureTrend, line: TrendLine) => boolean>> = {
  "any change": (_, line) => isChange(line),
  "better or worse": (_, { verdict }) => verdict === "better" || verdict === "worse",
  "spread better": ({ measure }, { verdict }) => measure === "intonation spread" && verdict === "better",
  "bends better": ({ measure }, { verdict }) => measure === "bends from plain notes" && verdict === "better",
};

export function runShare(share: Share): Results {
  const wanted = (part: string) => share.parts.length === 0 || share.parts.includes(part);
  const isAsked = ({ name, players }: Pick<Condition, "name" | "players">) =>
    shareOfRow(share, name, players) > 0;
  const all = Object.entries(CONDITIONS).flatMap(([part, conditions]) =>
    conditions.map((condition) => ({ part, condition })),
  );
  const trends = all.flatMap(({ part, condition }, place): Results["trends"] =>
    wanted(part) && isAsked(condition) ? [[keyOf(condition), askAll(condition, place, share)]] : [],
  );
  const spots = wanted("spots")
    ? SPOT_CONDITIONS.flatMap((condition, place): Results["spots"] =>
        isAsked(condition) ? [[condition.name, runSpots(condition, place, share)]] : [],
      )
    : [];
  return { trends, spots };
}

export const keyOf = ({ name, counted }: Condition): string => `${counted}: ${name}`;

function askAll({ name, counted, habits, players }: Condition, place: number, share: Share): Told {
  const told = { players: 0, day: 0, first: 0, notes: 0, days: 0 };
  const measures: Partial<Record<TrendMeasure, number>> = {};
  const counts = COUNTS[counted];
  for (const seed of seedsOf(share, place, shareOfRow(share, name, players))) {
    const facts = practise(habits, seed);
    const { groupDays, itemDays } = rollUp(facts);
    const view = trendsOf({ groupDays: [...groupDays.values()], itemDays: [...itemDays.values()] }, [
      { kind: "all" },
    ]);
    told.players += 1;
    told.days += view.days;
    told.notes += facts.reduce((sum, { measured }) => sum + measured.notes.expected, 0);
    const days = view.trends.filter((trend) => counts(trend, trend.day));
    if (days.length > 0) told.day += 1;
    for (const { measure } of days) measures[measure] = (measures[measure] ?? 0) + 1;
    if (view.trends.some((trend) => trend.first !== null && counts(trend, trend.first))) told.first += 1;
  }
  return { ...told, measures };
}
