/** Players whose weak spots do not change, asked what became of those that were picked. */

import { gaussian, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { addTables, type ReedTable } from "../../../core/progress/counts/reed-counts.ts";
import { type ReedDay, rollUp } from "../../../core/progress/counts/roll-ups.ts";
import type { WeakSpot } from "../../../core/progress/spots/weak-spot.ts";
import { weakSpotsOf } from "../../../core/progress/spots/weak-spots.ts";
import type { Form } from "./played.ts";
import { type Habits, practise, USUAL_FORM, USUAL_HABITS } from "./player.ts";
import { type Share, seedsOf, shareOfRow } from "./seeds.ts";

export interface SpotCondition {
  readonly name: string;
  readonly habits: Habits;
  /** Deviation of the logarithm of how often each reed action is missed; 0 where all are alike. */
  readonly uneven: number;
  /** Most that may be told of a change; null where a change is to be found. */
  readonly atMost: number | null;
  /** Share of the players asked: all where a figure rests on it. */
  readonly players: number;
  /** Whether the worst spot of the player is mended from the middle of the days on. */
  readonly mended: boolean;
}

/** Counts of players. */
export interface SpotTold {
  readonly players: number;
  /** With a weak spot picked at some time. */
  readonly picked: number;
  /** Told that a spot became better, or worse, since. */
  readonly told: number;
  readonly better: number;
  /** Whose worst spot of the first two days did better on the last two: what a bare comparison would call progress. */
  readonly bareRise: number;
}

const days = (sessions: number, changes: Partial<Habits> = {}): Habits => ({
  ...USUAL_HABITS,
  sessions,
  practised: () => 1,
  ...changes,
});

export const SPOT_CONDITIONS: readonly SpotCondition[] = [
  { name: "all reed actions alike", habits: days(20), uneven: 0, atMost: 0.05, players: 0.25, mended: false },
  { name: "some harder than others", habits: days(20), uneven: 0.8, atMost: 0.05, players: 1, mended: false },
  {
    name: "some harder, 40 sessions",
    habits: days(40),
    uneven: 0.8,
    atMost: 0.05,
    players: 0.25,
    mended: false,
  },
  {
    name: "some harder, A and delay move",
    habits: days(20, {
      form: (way, form) => ({ ...form, biasCents: form.biasCents + 6 * way, biasMs: form.biasMs + 15 * way }),
    }),
    uneven: 0.8,
    atMost: 0.05,
    players: 0.25,
    mended: false,
  },
  {
    name: "the worst is mended half way, 40 sessions",
    habits: days(40),
    uneven: 0.8,
    atMost: null,
    players: 0.25,
    mended: true,
  },
];

export function runSpots(condition: SpotCondition, place: number, share: Share): SpotTold {
  const told = { players: 0, picked: 0, told: 0, better: 0, bareRise: 0 };
  const asked = shareOfRow(share, condition.name, condition.players);
  for (const seed of seedsOf(share, 50 + place, asked)) {
    const rows = reedDays(condition, seed);
    const spots = weakSpotsOf(rows);
    const picked = [...spots.reeds, ...spots.pairs, ...spots.noLonger];
    const says = (verdict: string) => picked.some(({ since }: WeakSpot) => since.verdict === verdict);
    told.players += 1;
    if (picked.length > 0) told.picked += 1;
    if (says("better") || says("worse")) told.told += 1;
    if (says("better")) told.better += 1;
    if (roseBarely(rows)) told.bareRise += 1;
  }
  return told;
}

function reedDays({ habits, uneven, mended }: SpotCondition, seed: number): readonly ReedDay[] {
  const normal = gaussian(seededRandom(seed + 1));
  const tabs = [...new Set(habits.exercises.flatMap(({ notes }) => notes.map(({ tab }) => tab)))];
  const missedAt = new Map(
    tabs.map((tab) => [tab, Math.min(0.6, USUAL_FORM.missed * Math.exp(uneven * normal()))]),
  );
  const [worst] = [...missedAt].sort(([, one], [, other]) => other - one)[0] ?? [];
  const own: Form = { ...USUAL_FORM, missedAt };
  const form: Habits["form"] = (way, before) => {
    const now = habits.form(way, before);
    if (!mended || way < 0.4 || worst === undefined) return now;
    return { ...now, missedAt: new Map([...now.missedAt, [worst, USUAL_FORM.missed]]) };
  };
  return [...rollUp(practise({ ...habits, form }, seed, own)).reedDays.values()];
}

/** The trap: the worst of the first two days, and whether it is better on the last two. */
function roseBarely(rows: readonly ReedDay[]): boolean {
  const all = [...new Set(rows.map(({ day }) => day))].sort();
  const tableOf = (of: readonly string[]) =>
    rows
      .filter(({ day }) => of.includes(day))
      .reduce<ReedTable>((sum, { first }) => addTables(sum, first.reeds), {});
  const [before, after] = [tableOf(all.slice(0, 2)), tableOf(all.slice(-2))];
  const share = (table: ReedTable, tab: string) => {
    const counts = table[tab];
    return counts === undefined ? 0 : counts.troubled / counts.asked;
  };
  const worst = Object.keys(before).sort((a, b) => share(before, b) - share(before, a))[0];
  return worst !== undefined && share(after, worst) < share(before, worst);
}
