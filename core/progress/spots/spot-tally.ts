import { addCounts, NO_COUNTS, type ReedCounts, type ReedTable } from "../counts/reed-counts.ts";
import type { ReedDay } from "../counts/roll-ups.ts";
import type { PracticeDay } from "../practice-day.ts";
import type { ColdBaseline } from "./weak-spot.ts";

/** What one reed action or pair has come to by the end of a day. */
export interface SpotTally {
  readonly harp: string;
  readonly name: string;
  readonly counts: ReedCounts;
  /** Troubled notes there would be, were each as hard as the other notes of the same exercise on the same day. */
  readonly usualTroubled: number;
  /** Oldest first. */
  readonly cold: readonly ColdBaseline[];
}

/** Fewer notes of a spot on a day are no baseline. Common practice, no source. */
const LEAST_COLD_NOTES = 2;

export type SpotKind = "reed" | "pair";

export const tableOf = (kind: SpotKind, from: { readonly reeds: ReedTable; readonly pairs: ReedTable }) =>
  kind === "reed" ? from.reeds : from.pairs;

export const spotKey = (harp: string, name: string): string => `${harp} | ${name}`;

/** All rows of one day added to what was known before it. */
export function withDay(
  before: ReadonlyMap<string, SpotTally>,
  kind: SpotKind,
  day: PracticeDay,
  rows: readonly ReedDay[],
): ReadonlyMap<string, SpotTally> {
  const after = new Map(before);
  const cold = new Map<string, ColdBaseline>();
  for (const row of rows) {
    const [all, first] = [tableOf(kind, row), tableOf(kind, row.first)];
    const usual = troubledShare(all);
    for (const [name, counts] of Object.entries(all)) {
      const key = spotKey(row.harp, name);
      const known = after.get(key) ?? { harp: row.harp, name, counts: NO_COUNTS, usualTroubled: 0, cold: [] };
      const usualTroubled = known.usualTroubled + usual * counts.asked;
      after.set(key, { ...known, counts: addCounts(known.counts, counts), usualTroubled });
      const own = first[name];
      if (own !== undefined) cold.set(key, joined(cold.get(key), day, own, troubledShare(first)));
    }
  }
  for (const [key, baseline] of cold) {
    const known = after.get(key);
    if (known !== undefined && baseline.asked >= LEAST_COLD_NOTES)
      after.set(key, { ...known, cold: [...known.cold, baseline] });
  }
  return after;
}

/** Share of all notes of a table that were in trouble. */
function troubledShare(table: ReedTable): number {
  const { asked, troubled } = troubleOf(table);
  return asked === 0 ? 0 : troubled / asked;
}

/** Notes of a whole table, and how many of them were in trouble. */
export function troubleOf(table: ReedTable): Pick<ReedCounts, "asked" | "troubled"> {
  let [asked, troubled] = [0, 0];
  for (const counts of Object.values(table)) {
    asked += counts.asked;
    troubled += counts.troubled;
  }
  return { asked, troubled };
}

/** First attempts of several exercises of a day as one baseline. */
function joined(
  known: ColdBaseline | undefined,
  day: PracticeDay,
  { asked, troubled }: ReedCounts,
  usual: number,
): ColdBaseline {
  if (known === undefined) return { day, asked, troubled, usual };
  const all = known.asked + asked;
  const usualTroubled = known.usual * known.asked + usual * asked;
  return { day, asked: all, troubled: known.troubled + troubled, usual: usualTroubled / all };
}
