import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { type DemoAttempt, demoDays } from "../../../core/simulate/demo-days.ts";
import type { NewEntry, StoredEntry } from "../../../renderer/store/history-entry.ts";
import { comeAlongCalled } from "../../../renderer/tunes/come-along.ts";

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
/** 2026-06-01 at six in the evening, UTC. */
const SOME_EVENING_MS = 1_780_336_800_000;
/** Tunes the pool is practised on, as the demonstration has them. */
const TITLES = ["The Lamp over the Hall Door", "Chairs Against the Wall", "The Rakes of Mallow"];
/** Harps that the attempts of the pool are spread over: key, and hole 1 blow as a MIDI number. */
const HARPS = [
  ["G", 55],
  ["A", 57],
  ["C", 60],
  ["D", 62],
  ["F", 65],
] as const;

/** Attempts of the first so many made-up days, marked by the real marking, as if they had been played. */
export function playedPool(seed: number, days: number): readonly DemoAttempt[] {
  const tunes = comeAlongCalled(TITLES).map(({ id, tune }) => ({ tuneId: id, tune }));
  const all = demoDays({ seed, lastBeginsEpochMs: SOME_EVENING_MS, zone: "Europe/Dublin", tunes });
  return Array.from({ length: days }, () => all.next().value ?? []).flat();
}

/** The attempt of a pool by its number, as it was played just then. */
export function entryOf(
  pool: readonly DemoAttempt[],
  number: number,
  atEpochMs: number,
): Omit<NewEntry, "take"> {
  const one = pool[number % pool.length];
  const [key, keyNote] = HARPS[Math.floor(number / pool.length) % HARPS.length] ?? HARPS[0];
  if (one === undefined) throw new RangeError("an empty pool");
  const { exercise, attempt, zone } = one;
  const harp = { ...exercise.harp, key, keyNote } as typeof exercise.harp;
  return { atEpochMs, zone, source: "microphone", exercise: { ...exercise, harp }, attempt };
}

/** Which attempts of a large history: from one, 0 for the oldest, up to another, not included. */
export interface Some {
  readonly from: number;
  readonly to: number;
  readonly total: number;
  readonly days: number;
  readonly lastEveningMs: number;
}

/** Some of a large history: attempts a minute apart, as many each evening, over so many days up to the last. */
export function someOfMany(
  pool: readonly DemoAttempt[],
  { from, to, total, days, lastEveningMs }: Some,
): readonly StoredEntry[] {
  const aDay = Math.ceil(total / days);
  const random = seededRandom(from + 1);
  return Array.from({ length: to - from }, (_, n) => {
    const place = from + n;
    const day = Math.floor(place / aDay);
    const atEpochMs = lastEveningMs - (days - 1 - day) * DAY_MS + (place % aDay) * MINUTE_MS;
    // Neighbours in the pool are tries at one thing: each evening begins somewhere else in it.
    const number = (place % aDay) + day * 37 + Math.floor(random() * 2);
    return { ...entryOf(pool, number, atEpochMs), id: `made-${place}`, take: null };
  });
}
