import type { ReedDay } from "../counts/roll-ups.ts";
import type { PracticeDay } from "../practice-day.ts";
import { alikeWithin, expectedShare } from "../statistics/shrink.ts";
import { wilsonInterval } from "../statistics/wilson.ts";
import { claimsTogether } from "../trends/claims-together.ts";
import type { DayValue } from "../trends/day-values.ts";
import { trendLine } from "../trends/trend-line.ts";
import { coldBeyondUsual } from "./reed-values.ts";
import { type SpotKind, type SpotTally, spotKey, withDay } from "./spot-tally.ts";
import { sinceInWords, spotInWords } from "./spot-words.ts";
import type { Spot, WeakSpot, WeakSpots } from "./weak-spot.ts";

/** Less beyond the usual is not worth a drill of its own. Common practice, no source. */
const LEAST_BEYOND = 0.05;
/** One bad morning is no weakness. */
const BASELINES = 2;

/**
 * What costs most: reed actions and pairs in trouble more often than the other notes of the same exercises on the same days.
 *
 * Who picks the worst of many picks bad luck with it, and sees it pass. So a spot's share is moved towards the usual as its few
 * notes ask for; it counts only if the first attempts of two days both show it; and what became of it is told from the first
 * attempts of later days alone, against the other notes of those attempts, at least eight days of them.
 *
 * @param rows of a range of days, in any order; of one harp or several
 */
export function weakSpotsOf(rows: readonly ReedDay[]): WeakSpots {
  const byDay = new Map<PracticeDay, ReedDay[]>();
  for (const row of rows) byDay.set(row.day, [...(byDay.get(row.day) ?? []), row]);
  const days = [...byDay]
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([day, of]) => ({ day, rows: of.sort(byGroup) }));
  const found = (["reed", "pair"] as const).map((kind) => foundOf(kind, days));
  const picked = withSince(
    found.flatMap((one) => one.picked),
    rows,
  );
  const weak = (kind: SpotKind) => picked.filter((spot) => spot.kind === kind && spot.weak).sort(byCost);
  return {
    reeds: weak("reed"),
    pairs: weak("pair"),
    noLonger: picked.filter((spot) => !spot.weak).sort(byCost),
    allReeds: found[0]?.spots ?? [],
    allPairs: found[1]?.spots ?? [],
  };
}

const byGroup = (one: ReedDay, other: ReedDay) => (one.group < other.group ? -1 : 1);

const byCost = (one: Spot, other: Spot) =>
  other.costPer100 - one.costPer100 ||
  (spotKey(one.harp, one.name) < spotKey(other.harp, other.name) ? -1 : 1);

interface DayOfRows {
  readonly day: PracticeDay;
  readonly rows: readonly ReedDay[];
}

type Picked = Spot & Pick<WeakSpot, "pickedOn">;

/** All spots as they stand after the last day, and those that were weak at the end of any day, with the first such day. */
function foundOf(kind: SpotKind, days: readonly DayOfRows[]) {
  let tallies: ReadonlyMap<string, SpotTally> = new Map();
  let spots: readonly Spot[] = [];
  const pickedOn = new Map<string, PracticeDay>();
  for (const { day, rows } of days) {
    tallies = withDay(tallies, kind, day, rows);
    spots = spotsOf(kind, [...tallies.values()]);
    for (const { harp, name, weak } of spots)
      if (weak && !pickedOn.has(spotKey(harp, name))) pickedOn.set(spotKey(harp, name), day);
  }
  const picked = spots.flatMap((spot): readonly Picked[] => {
    const on = pickedOn.get(spotKey(spot.harp, spot.name));
    return on === undefined ? [] : [{ ...spot, pickedOn: on }];
  });
  return { spots: [...spots].sort(byCost), picked };
}

function spotsOf(kind: SpotKind, tallies: readonly SpotTally[]): readonly Spot[] {
  const shares = tallies.map(({ counts, usualTroubled }) => ({ ...counts, usualTroubled }));
  const alike = alikeWithin(shares);
  const notes = shares.reduce((sum, { asked }) => sum + asked, 0);
  return tallies.flatMap(({ harp, name, counts, usualTroubled, cold }): readonly Spot[] => {
    const { asked, troubled, wrong, missed, off, offBeat } = counts;
    const share = wilsonInterval(troubled, asked);
    if (share === null) return [];
    const usual = usualTroubled / asked;
    const expected = expectedShare({ asked, troubled, usualTroubled }, alike);
    const last = cold.slice(-BASELINES);
    const shown = last.length === BASELINES && last.every((one) => one.troubled / one.asked > one.usual);
    return [
      {
        ...{ kind, harp, name, asked, troubled, wrong, missed, off, offBeat, share, usual, expected, cold },
        costPer100: (100 * asked * (expected - usual)) / notes,
        weak: shown && expected - usual >= LEAST_BEYOND,
      },
    ];
  });
}

/** What became of each since it was picked, so wide that all of them together hold. */
function withSince(picked: readonly Picked[], rows: readonly ReedDay[]): readonly WeakSpot[] {
  const later = picked.map((spot) => ({ spot, values: laterValues(spot, rows) }));
  const { judged, confidence } = claimsTogether(later.map(({ values }) => values));
  const rule = { kind: "first", scale: "plain", share: false, better: "less", confidence } as const;
  return later.map(({ spot, values }) => {
    const line = trendLine(values, rule);
    const since = { ...line, words: sinceInWords(line, spot.pickedOn, judged) };
    return { ...spot, since, words: spotInWords(spot) };
  });
}

const laterValues = ({ kind, harp, name, pickedOn }: Picked, rows: readonly ReedDay[]): readonly DayValue[] =>
  coldBeyondUsual(
    kind,
    name,
    rows.filter((row) => row.harp === harp && row.day > pickedOn),
  );
