import { addTables, pairOf, type ReedCounts, type ReedTable } from "../counts/reed-counts.ts";
import type { ReedDay } from "../counts/roll-ups.ts";
import { deviationOf, meanOf, type Sums } from "../counts/sums.ts";
import { wilsonInterval } from "../statistics/wilson.ts";
import { type SpotKind, tableOf } from "./spot-tally.ts";
import type { MeanAndSpread, PairPicture, ReedPicture } from "./weak-spot.ts";

/** What each reed action gave over all the days, by harp and tab. */
export const reedPictures = (days: readonly ReedDay[]): readonly ReedPicture[] =>
  totals("reed", days).flatMap(({ harp, name, counts }) => {
    const right = rightShare(counts);
    if (right === null) return [];
    const { asked, cents, ms } = counts;
    return [{ harp, name, asked, right, cents: meanAndSpread(cents), ms: meanAndSpread(ms) }];
  });

/** The matrix of pairs over all the days; a pair that was never asked for is absent. */
export const pairPictures = (days: readonly ReedDay[]): readonly PairPicture[] =>
  totals("pair", days).flatMap(({ harp, name, counts }) => {
    const [pair, right] = [pairOf(name), rightShare(counts)];
    const troubled = wilsonInterval(counts.troubled, counts.asked);
    if (pair === null || right === null || troubled === null) return [];
    return [{ harp, from: pair[0], to: pair[1], asked: counts.asked, troubled, right }];
  });

interface Total {
  readonly harp: string;
  readonly name: string;
  readonly counts: ReedCounts;
}

/** By harp, then by name. */
function totals(kind: SpotKind, days: readonly ReedDay[]): readonly Total[] {
  const byHarp = new Map<string, ReedTable>();
  for (const day of days) byHarp.set(day.harp, addTables(byHarp.get(day.harp) ?? {}, tableOf(kind, day)));
  return [...byHarp]
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .flatMap(([harp, table]) => Object.entries(table).map(([name, counts]) => ({ harp, name, counts })));
}

const rightShare = ({ asked, wrong, missed }: ReedCounts) => wilsonInterval(asked - wrong - missed, asked);

function meanAndSpread(sums: Sums): MeanAndSpread | null {
  const mean = meanOf(sums);
  return mean === null ? null : { notes: sums.n, mean, spread: deviationOf(sums) };
}
