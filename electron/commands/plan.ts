import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { harpInKey } from "../../core/instrument/harp.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { type ItemDay, type ReedDay, rollUp } from "../../core/progress/counts/roll-ups.ts";
import type { SessionFact } from "../../core/progress/counts/session-fact.ts";
import { LEAST_MINUTES, MOST_MINUTES, planDay, seedOfDay } from "../../core/progress/plan/plan.ts";
import { type HarpPairs, PAIR_HARPS, PAIR_WEEKS, planPairs } from "../../core/progress/plan/plan-pairs.ts";
import { type Plan, plannedMinutes } from "../../core/progress/plan/plan-shape.ts";
import {
  daysAfter,
  type PracticeDay,
  practiceDay,
  readPracticeDay,
} from "../../core/progress/practice-day.ts";
import { type ItemRow, itemRowOf } from "../../core/progress/revisit/revisit.ts";
import { weakSpotsOf } from "../../core/progress/spots/weak-spots.ts";
import { bpm } from "../../core/units.ts";
import { type Arguments, choiceOption, fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import type { Io } from "./io.ts";
import { keptIn, type Practised, practisedIn } from "./plan-archive.ts";
import { repertoireForPlan } from "./plan-repertoire.ts";

/** Prints the plan of a day from an archive: the same archive, day and minutes give the same plan. */
export async function plan(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["minutes", "day", "known"]);
  const [path = ""] = fileWords(read, ["ARCHIVE"]);
  const minutes = numberOption(read, "minutes", 30, { low: LEAST_MINUTES, high: MOST_MINUTES, whole: true });
  const known = choiceOption(read, "known", "mixed", ["mixed", "blocked"]);
  const day = dayOption(read);
  const kept = await keptIn(path);
  const practised = await practisedIn(path, day);
  const items = itemsOf(practised.facts);
  const drills = practised.latest === null ? FIRST_DRILLS : settingOf(practised.latest);
  const seed = seedOfDay(day);
  const nowEpochMs = Math.max(practised.latestEpochMs, Date.parse(`${day}T12:00:00Z`));
  const made = planDay({
    minutes,
    day,
    seed,
    items,
    wishes: kept.wishes,
    weakPairs: planPairs(weakPairs(practised)),
    tunes: await repertoireForPlan({ kept, practised, items, seed, harp: drills.harp, nowEpochMs }),
    drills,
    known,
  });
  io.stdout(`${JSON.stringify(toldOf(made), null, 2)}\n`);
}

/** The day asked for, or the one it is. */
function dayOption({ options }: Arguments): PracticeDay {
  const text = options.day;
  if (text === undefined) return practiceDay(Date.now(), Intl.DateTimeFormat().resolvedOptions().timeZone);
  const day = readPracticeDay(text);
  if (day === null)
    throw new CommandError(`--day is a day of the calendar such as 2026-11-28, not "${text}"`);
  return day;
}

function itemsOf(facts: readonly SessionFact[]): readonly ItemRow[] {
  const byItem = new Map<string, ItemDay[]>();
  for (const row of rollUp(facts).itemDays.values()) {
    const same = byItem.get(row.item);
    if (same === undefined) byItem.set(row.item, [row]);
    else same.push(row);
  }
  return [...byItem.values()].map(itemRowOf);
}

/** Pairs found weak in the weeks up to the last day practised on, on the harps with the most notes. */
function weakPairs({ facts, harps }: Practised): readonly HarpPairs[] {
  const last = facts.reduce<PracticeDay | null>(
    (latest, { day }) => (latest === null || day > latest ? day : latest),
    null,
  );
  if (last === null) return [];
  const from = daysAfter(last, 1 - 7 * PAIR_WEEKS);
  const rows = [...rollUp(facts).reedDays.values()].filter(({ day }) => day >= from);
  return [...harps]
    .map(([key, harp]) => ({ harp, own: rows.filter((row) => row.harp === key) }))
    .filter(({ own }) => notesOf(own) > 0)
    .sort((one, other) => notesOf(other.own) - notesOf(one.own))
    .slice(0, PAIR_HARPS)
    .map(({ harp, own }) => ({ harp, pairs: weakSpotsOf(own).pairs }));
}

const notesOf = (rows: readonly ReedDay[]): number =>
  rows.flatMap(({ reeds }) => Object.values(reeds)).reduce((sum, { asked }) => sum + asked, 0);

const settingOf = ({ harp, position, mode, tempo, countInBeats }: Exercise): DrillSetting => ({
  harp,
  position,
  mode,
  tempo,
  countInBeats,
  abilities: PLAIN_AND_BENDS,
});

const [STANDARD] = STOCK_LAYOUTS;
const HARP = STANDARD === undefined ? null : harpInKey(STANDARD, "G");
if (HARP === null) throw new Error("there is always a G harp");

/** As a new player's drills are set in the window. */
const FIRST_DRILLS: DrillSetting = {
  harp: HARP,
  position: 2,
  mode: "mixolydian",
  tempo: { bpm: bpm(90), noteValue: "1/4" },
  countInBeats: 4,
  abilities: PLAIN_AND_BENDS,
};

const toldOf = (made: Plan) => ({
  schema: "reedpath.plan",
  version: 1,
  day: made.day,
  minutes: plannedMinutes(made),
  asked: made.minutes,
  lines: made.lines,
});
