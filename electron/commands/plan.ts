import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { harpInKey } from "../../core/instrument/harp.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { harpKeyOf } from "../../core/progress/likeness.ts";
import { LEAST_MINUTES, MOST_MINUTES, planDay, seedOfDay } from "../../core/progress/plan.ts";
import { PAIR_WEEKS, planPairs } from "../../core/progress/plan-pairs.ts";
import { type Plan, plannedMinutes } from "../../core/progress/plan-shape.ts";
import { knownTunes } from "../../core/progress/plan-tunes.ts";
import {
  daysAfter,
  type PracticeDay,
  practiceDay,
  readPracticeDay,
} from "../../core/progress/practice-day.ts";
import { type ItemRow, itemRowOf, type Wish } from "../../core/progress/revisit.ts";
import { type ItemDay, type ReedDay, rollUp } from "../../core/progress/roll-ups.ts";
import { factOf, type SessionFact } from "../../core/progress/session-fact.ts";
import { weakSpotsOf } from "../../core/progress/weak-spots.ts";
import { bpm } from "../../core/units.ts";
import { readArchiveFile } from "./archive-file.ts";
import { type Arguments, choiceOption, fileWords, numberOption, readArguments } from "./arguments.ts";
import { CommandError } from "./command-error.ts";
import type { Io } from "./io.ts";
import { keptAttempts } from "./kept-attempts.ts";

/** What a plan needs of an archive. */
interface Practised {
  readonly facts: readonly SessionFact[];
  /** Of the attempt that came last; null without any. */
  readonly latest: Exercise | null;
  readonly wishes: readonly Wish[];
}

/** Prints the plan of a day from an archive: the same archive, day and minutes give the same plan. */
export async function plan(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, ["minutes", "day", "known"]);
  const [path = ""] = fileWords(read, ["ARCHIVE"]);
  const minutes = numberOption(read, "minutes", 30, { low: LEAST_MINUTES, high: MOST_MINUTES, whole: true });
  const known = choiceOption(read, "known", "mixed", ["mixed", "blocked"]);
  const day = dayOption(read);
  const { facts, latest, wishes } = await practisedIn(path, day);
  const items = itemsOf(facts);
  const drills = latest === null ? FIRST_DRILLS : settingOf(latest);
  const made = planDay({
    minutes,
    day,
    seed: seedOfDay(day),
    items,
    wishes,
    weakPairs: planPairs(weakPairs(facts, drills, day), drills.harp),
    tunes: knownTunes(items, day),
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

/** What was practised up to a day, and what was wished. */
async function practisedIn(path: string, day: PracticeDay): Promise<Practised> {
  const wishes: Wish[] = [];
  for await (const event of readArchiveFile(path))
    if (event.kind === "record" && event.record.kind === "wish")
      wishes.push({ ...(event.record.value as Wish), item: event.record.id });
  const facts: SessionFact[] = [];
  let latest: { readonly exercise: Exercise; readonly atEpochMs: number } | null = null;
  for await (const kept of keptAttempts(path)) {
    const fact = factOf(kept);
    if (fact.day > day) continue;
    facts.push(fact);
    if (latest === null || kept.atEpochMs > latest.atEpochMs) latest = kept;
  }
  return { facts, latest: latest?.exercise ?? null, wishes };
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

/** Pairs found weak in the last weeks on the harp that was played last. */
function weakPairs(facts: readonly SessionFact[], { harp }: DrillSetting, day: PracticeDay) {
  const from = daysAfter(day, 1 - 7 * PAIR_WEEKS);
  const key = harpKeyOf(harp);
  const rows: readonly ReedDay[] = [...rollUp(facts).reedDays.values()];
  return weakSpotsOf(rows.filter((row) => row.harp === key && row.day >= from)).pairs;
}

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
