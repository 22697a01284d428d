import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { TuneTry } from "../../core/progress/repertoire/repertoire-status.ts";
import { type RungAttempt, tuneTry } from "../../core/progress/repertoire/tune-try.ts";
import type { NoteValue } from "../../core/tune/tempo.ts";
import { bpm, milliseconds } from "../../core/units.ts";
import type { HistoryLine } from "./history-entry.ts";
import type { TuneDayRow } from "./rows.ts";

/** What of a line a day of tries is made from. */
type TunedLine = RungAttempt & Pick<HistoryLine, "tuneId" | "day">;

/** The days of tunes that lines make; lines at no tune are in none. */
export function tuneDaysOf(lines: readonly TunedLine[]): readonly TuneDayRow[] {
  const days = new Map<string, { tuneId: string; day: PracticeDay; tries: TuneTry[] }>();
  for (const line of lines) {
    const { tuneId, day } = line;
    const one = tuneTry(line);
    if (tuneId === undefined || one === null) continue;
    const key = `${day} ${tuneId}`;
    const same = days.get(key) ?? { tuneId, day, tries: [] };
    same.tries.push(one);
    days.set(key, same);
  }
  return [...days.values()].map(({ tuneId, day, tries }) => packTuneDay(tuneId, day, tries));
}

/** Two rows of one tune and day in one. */
export const mergeTuneDays = (one: TuneDayRow, other: TuneDayRow): TuneDayRow =>
  packTuneDay(one.tuneId, one.day, [...unpackTuneDay(one), ...unpackTuneDay(other)]);

const NUMBERS = 4;
const TEXTS = 3;

/** The order does not tell which came in first: the same attempts always make the same row. */
function packTuneDay(tuneId: string, day: PracticeDay, tries: readonly TuneTry[]): TuneDayRow {
  const keyed = tries.map((one) => ({ one, key: JSON.stringify(one) }));
  keyed.sort((a, b) => a.one.atEpochMs - b.one.atEpochMs || (a.key < b.key ? -1 : 1));
  return {
    tuneId,
    day,
    texts: JSON.stringify(keyed.flatMap(({ one: { rung, words, tempo } }) => [rung, words, tempo.noteValue])),
    numbers: Float64Array.from(
      keyed.flatMap(({ one: { atEpochMs, rightShare, spreadMs, tempo } }) => [
        atEpochMs,
        rightShare,
        spreadMs ?? Number.NaN,
        tempo.bpm,
      ]),
    ),
  };
}

/** Oldest first. */
export function unpackTuneDay({ texts, numbers }: TuneDayRow): readonly TuneTry[] {
  const all = JSON.parse(texts) as string[];
  return Array.from({ length: numbers.length / NUMBERS }, (_, n) => {
    const number = (place: number) => numbers[NUMBERS * n + place] ?? Number.NaN;
    const text = (place: number) => all[TEXTS * n + place] ?? "";
    const spread = number(2);
    return {
      rung: text(0),
      rightShare: number(1),
      spreadMs: Number.isNaN(spread) ? null : milliseconds(spread),
      tempo: { noteValue: text(2) as NoteValue, bpm: bpm(number(3)) },
      words: text(1),
      atEpochMs: number(0),
    };
  });
}

/** Tries by tune, each oldest first. @param rows in any order */
export function triesByTune(rows: readonly TuneDayRow[]): ReadonlyMap<string, readonly TuneTry[]> {
  const tries = new Map<string, TuneTry[]>();
  for (const row of rows) {
    const own = tries.get(row.tuneId) ?? [];
    tries.set(row.tuneId, own);
    for (const one of unpackTuneDay(row)) own.push(one);
  }
  for (const own of tries.values()) own.sort((a, b) => a.atEpochMs - b.atEpochMs);
  return tries;
}
