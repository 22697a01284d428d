import { rollUp } from "../../core/progress/counts/roll-ups.ts";
import { factOf, type SessionFact } from "../../core/progress/counts/session-fact.ts";
import { daysAfter, type PracticeDay } from "../../core/progress/practice-day.ts";
import type { WeakSpot } from "../../core/progress/spots/weak-spot.ts";
import { weakSpotsOf } from "../../core/progress/spots/weak-spots.ts";
import type { MeasureTrend, Scope, TrendLine } from "../../core/progress/trends/trend.ts";
import { trendsOf } from "../../core/progress/trends/trends.ts";
import { type Arguments, choiceOption, fileWords, numberOption, readArguments } from "./arguments.ts";
import type { Io } from "./io.ts";
import { keptAttempts } from "./kept-attempts.ts";

const SCOPES = ["all", "position", "tune", "item", "group"] as const;

/** Prints what changed and how sure that is, and what costs most, from the attempts of an archive. */
export async function progress(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["of", "weeks", "made-up"]);
  const [path = ""] = fileWords(read, ["ARCHIVE"]);
  const of = choiceOption(read, "of", "all", SCOPES);
  const weeks = weeksOption(read);
  const withMadeUp = choiceOption(read, "made-up", "no", ["yes", "no"]) === "yes";
  const all: SessionFact[] = [];
  for await (const attempt of keptAttempts(path)) {
    if (withMadeUp || attempt.demo !== true) all.push(factOf(attempt));
  }
  io.stdout(`${JSON.stringify(toldOf(lastWeeks(all, weeks), of), null, 2)}\n`);
}

/** Null for all of them. */
function weeksOption(args: Arguments): number | null {
  if (args.options.weeks === "all") return null;
  return numberOption(args, "weeks", 8, { low: 1, high: 1000, whole: true });
}

/** Up to the last day practised on. */
function lastWeeks(facts: readonly SessionFact[], weeks: number | null): readonly SessionFact[] {
  const last = facts.reduce<PracticeDay | null>(
    (latest, { day }) => (latest === null || day > latest ? day : latest),
    null,
  );
  if (weeks === null || last === null) return facts;
  const from = daysAfter(last, 1 - 7 * weeks);
  return facts.filter(({ day }) => day >= from);
}

function toldOf(facts: readonly SessionFact[], of: (typeof SCOPES)[number]) {
  const { groupDays, itemDays, reedDays } = rollUp(facts);
  const rows = { groupDays: [...groupDays.values()], itemDays: [...itemDays.values()] };
  const { trends, days, judged, confidence } = trendsOf(rows, scopesOf(of, facts));
  const spots = weakSpotsOf([...reedDays.values()]);
  const ofDays = facts.map(({ day }) => day).sort();
  return {
    schema: "reedpath.progress",
    version: 1,
    attempts: facts.length,
    days: { practised: days, first: ofDays[0] ?? null, last: ofDays.at(-1) ?? null },
    judgedTogether: { lines: judged, confidenceOfEach: confidence },
    trends: trends.map(trendTold),
    weakSpots: {
      reeds: spots.reeds.map(spotTold),
      pairs: spots.pairs.map(spotTold),
      noLonger: spots.noLonger.map(spotTold),
    },
  };
}

/** Each once, in the order they were first practised. */
function scopesOf(of: (typeof SCOPES)[number], facts: readonly SessionFact[]): readonly Scope[] {
  const inOrder = [...facts].sort((one, other) => one.atEpochMs - other.atEpochMs);
  const scopes = inOrder.map((fact) => scopeOf(of, fact)).filter((scope) => scope !== null);
  return [...new Map(scopes.map((scope) => [JSON.stringify(scope), scope])).values()];
}

function scopeOf(of: (typeof SCOPES)[number], { what, item, group }: SessionFact): Scope | null {
  switch (of) {
    case "all":
      return { kind: of };
    case "position":
      return { kind: of, position: what.position };
    case "tune":
      return what.tuneId === undefined ? null : { kind: of, tuneId: what.tuneId };
    case "item":
      return { kind: of, item };
    case "group":
      return { kind: of, group };
  }
}

const trendTold = ({
  scope,
  measure,
  unit,
  noteValue,
  better,
  compared,
  day,
  first,
  best,
}: MeasureTrend) => ({
  scope,
  measure,
  unit,
  noteValue,
  better,
  compared,
  everyAttempt: lineTold(day),
  firstOfTheDay: first === null ? null : lineTold(first),
  bestOfTheDay: best === null ? null : lineTold(best),
});

const lineTold = ({ verdict, words, change, sessions, notes, points }: TrendLine) => ({
  verdict,
  words,
  change,
  sessions,
  notes,
  points,
});

const spotTold = ({
  kind,
  harp,
  name,
  words,
  asked,
  troubled,
  share,
  usual,
  expected,
  ...rest
}: WeakSpot) => ({
  kind,
  harp,
  name,
  words,
  notes: asked,
  inTrouble: troubled,
  share,
  usual,
  expected,
  costPer100: rest.costPer100,
  pickedOn: rest.pickedOn,
  since: lineTold(rest.since),
});
