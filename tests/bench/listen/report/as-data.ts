import { leakScore } from "../measures/leak-measures.ts";
import { quantile } from "../measures/statistics.ts";
import { summarise } from "../measures/summary.ts";
import { together } from "../measures/take-score.ts";
import { bendSpread } from "./bends.ts";
import type { Reached } from "./figure-table.ts";
import { FALSE_ALARM_SHARE, LEAK_TAKES, leaksOver } from "./leaks.ts";
import { type SeedResult, scoreOf, type TakeResult, type Timed } from "./measured.ts";

/** The whole run as plain data; what is not finite becomes null. */
export function asData(
  results: readonly SeedResult[],
  timed: Timed,
  reached: readonly Reached[],
  judged: string,
) {
  return {
    schema: "reedpath.bench-listen",
    version: 1,
    figures: reached.map(({ figure, values, verdict }) => {
      const { name, unit, sense, limit, goal } = figure;
      return { name, unit, sense, limit, goal, reached: values, verdict };
    }),
    judged,
    ...timed,
    seeds: results.map((result) => ({
      seed: result.seed,
      engines: Object.fromEntries([...result.engines].map(([name, takes]) => [name, engineData(takes)])),
      leaks: Object.fromEntries(
        LEAK_TAKES.map(([label, takes]) => [label, leaksOver(result, judged, takes)]),
      ),
      leaksHarpKnown: Object.fromEntries(
        LEAK_TAKES.map(([label, takes]) => [
          label,
          leakScore(scoreOf(result.harpKnown, takes).leaks, FALSE_ALARM_SHARE),
        ]),
      ),
      liveMs: Object.fromEntries(
        [...result.liveMs].map(([take, delays]) => [
          take,
          { median: quantile(delays, 0.5), p95: quantile(delays, 0.95) },
        ]),
      ),
    })),
  };
}

function engineData(takes: readonly TakeResult[]) {
  const groups = [...new Set(takes.map(({ group }) => group))];
  return Object.fromEntries(
    groups.map((group) => {
      const score = together(takes.filter((one) => one.group === group).map((one) => one.score));
      return [
        group,
        {
          ...summarise(score),
          bends: bendSpread(score.bends),
          bendsByFrames: bendSpread(score.bendsByFrames),
        },
      ];
    }),
  );
}
