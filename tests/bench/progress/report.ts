/** The bench's tables: every share with Wilson's interval, and what it was to reach. */
import { wilsonInterval } from "../../../core/progress/statistics/wilson.ts";
import { CONDITIONS, type Condition } from "./conditions.ts";
import { USUAL_FORM, USUAL_HABITS, USUAL_SCATTER } from "./player.ts";
import { keyOf, type Results, type Told } from "./run.ts";
import { SPOT_CONDITIONS, type SpotCondition, type SpotTold } from "./spots.ts";

const HEADINGS: Readonly<Record<keyof typeof CONDITIONS, string>> = {
  unchanged: "Players who do not change, told of any change in any of the measures of the view",
  drift: "Calibration moves, the player does not: told of anything better or worse",
  better:
    "Intonation spread of plain notes 12 to 9 cents, bends by the same share: told that it became better",
  bends: "Bends 20 to 17 cents from the plain notes: told that they became better",
};

export function report(results: Results): string {
  const trends = new Map(results.trends);
  const parts = (Object.keys(CONDITIONS) as (keyof typeof CONDITIONS)[]).flatMap((part) => {
    const asked = CONDITIONS[part].filter((condition) => trends.has(keyOf(condition)));
    return asked.length === 0 ? [] : [[HEADINGS[part], ...tableOf(asked, trends)].join("\n")];
  });
  const spots = results.spots.length === 0 ? [] : [spotsTable(new Map(results.spots))];
  return [settingInWords(), ...parts, ...spots].join("\n\n");
}

/** Whether every bound of the tables is kept. */
export function allKept(results: Results): boolean {
  const trends = new Map(results.trends);
  const kept = Object.values(CONDITIONS)
    .flat()
    .every((condition) => trendReached(condition, trends.get(keyOf(condition))) !== "MISSED");
  const spots = new Map(results.spots);
  return (
    kept &&
    SPOT_CONDITIONS.every((condition) => spotReached(condition, spots.get(condition.name)) !== "MISSED")
  );
}

type Reached = "reached" | "open" | "MISSED";

/** Of fewer players a share beyond the bound leaves it open unless its whole interval lies beyond. */
function reached(bound: Condition["bound"], share: number, hit: number, of: number): Reached {
  const interval = wilsonInterval(hit, of);
  if (bound === null || interval === null) return "reached";
  const isBeyond = (value: number) => (bound.kind === "at most" ? value > bound.share : value < bound.share);
  if (!isBeyond(interval.share)) return "reached";
  const nearest = bound.kind === "at most" ? interval.low : interval.high;
  return share === 1 || isBeyond(nearest) ? "MISSED" : "open";
}

const trendReached = ({ bound, players }: Condition, told: Told | undefined): Reached =>
  told === undefined ? "reached" : reached(bound, players, told.day, told.players);

const spotReached = ({ atMost, players }: SpotCondition, told: SpotTold | undefined): Reached =>
  atMost === null || told === undefined
    ? "reached"
    : reached({ kind: "at most", share: atMost }, players, told.told, told.players);

const word = (is: Reached) => (is === "reached" ? "" : ` ${is}`);

function settingInWords(): string {
  const { exercises, sessions } = USUAL_HABITS;
  const { dayShare, attemptShare, badDays, badFactor, coldShare, dayCents, dayMs, coldCents, reedCents } =
    USUAL_SCATTER;
  const lengths = exercises.map(({ notes }) => notes.length).join(", ");
  const percent = (share: number) => `${Math.round(100 * share)} %`;
  return [
    `Usual days: ${sessions} sessions; ${exercises.length} exercises of ${lengths} notes, each on 85 days in 100, two to four attempts at each, in any order.`,
    `Scatter, all common practice and no measurement: spreads and slips ${percent(dayShare)} from day to day and ${percent(attemptShare)} from attempt to attempt; one day in ${Math.round(1 / badDays)} is bad (${percent(badFactor - 1)} wider);`,
    `the first attempt of a day ${percent(coldShare)} wider and ${coldCents} cents flat, half of it left after each attempt; all notes of a day off by ${dayCents} cents and ${dayMs} ms; reeds ${reedCents} cents from their tuning.`,
    `Notes ${USUAL_FORM.spreadCents} cents and ${USUAL_FORM.spreadMs} ms about their mean, ${percent(USUAL_FORM.missed)} missed.`,
  ].join("\n");
}

const in100 = (hit: number, of: number) => {
  const interval = wilsonInterval(hit, of);
  if (interval === null) return "none";
  const one = (share: number) => (100 * share).toFixed(1);
  return `${one(interval.share)} (${one(interval.low)} to ${one(interval.high)})`;
};

function tableOf(conditions: readonly Condition[], trends: ReadonlyMap<string, Told>): readonly string[] {
  const head = row(
    "",
    "notes a day",
    "in 100, all attempts",
    "also in first",
    "to reach",
    "most told measure",
  );
  const lines = conditions.map((condition) => {
    const told = trends.get(keyOf(condition));
    if (told === undefined) return row(condition.name, "", "not asked", "", "", "");
    const { bound } = condition;
    const reach =
      bound === null ? "" : `${bound.kind} ${100 * bound.share}${word(trendReached(condition, told))}`;
    const notes = Math.round(told.notes / told.days).toString();
    return row(
      ...[condition.name, notes, in100(told.day, told.players), in100(told.first, told.players), reach],
      mostTold(told),
    );
  });
  return [head, ...lines];
}

/** The measure told of most often: the rate by measure is at most this. */
function mostTold({ measures, players }: Told): string {
  const [most] = Object.entries(measures).sort(([, one], [, other]) => other - one);
  return most === undefined ? "none" : `${most[0]} ${((100 * most[1]) / players).toFixed(1)}`;
}

const WIDTHS = [44, 12, 24, 24, 20, 0];
const row = (...cells: readonly string[]) =>
  cells
    .map((cell, place) => cell.padEnd(WIDTHS[place] ?? 0))
    .join("")
    .trimEnd();

function spotsTable(spots: ReadonlyMap<string, SpotTold>): string {
  const lines = SPOT_CONDITIONS.flatMap((condition) => {
    const { name, atMost } = condition;
    const told = spots.get(name);
    if (told === undefined) return [];
    const { players } = told;
    const reach = atMost === null ? "" : `at most ${100 * atMost}${word(spotReached(condition, told))}`;
    const picked = ((100 * told.picked) / players).toFixed(0);
    return row(
      name,
      picked,
      in100(told.told, players),
      in100(told.better, players),
      reach,
      in100(told.bareRise, players),
    );
  });
  return [
    "Weak spots, picked and followed: told that any of them changed since",
    row(
      "",
      "any picked",
      "in 100, changed",
      "better",
      "to reach",
      "worst of two days rose by the last two, bare",
    ),
    ...lines,
  ].join("\n");
}
