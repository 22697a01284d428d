import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { type DemoAttempt, demoDays } from "../../../core/simulate/demo-days.ts";
import { midi } from "../../../core/units.ts";
import type { NewEntry, StoredEntry } from "../../../renderer/store/history-entry.ts";
import { BOOKS } from "../../../renderer/tunes/books.ts";
import { tunesCalled } from "../../../renderer/tunes/come-along.ts";

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
  const tunes = tunesCalled(TITLES, BOOKS).map(({ id, tune }) => ({ tuneId: id, tune }));
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
  const higher = keyNote - exercise.harp.keyNote;
  const notes = exercise.notes.map((note) => ({ ...note, midi: midi(note.midi + higher) }));
  return { atEpochMs, zone, source: "microphone", exercise: { ...exercise, harp, notes }, attempt };
}

/** Which attempts of a large history: from one, 0 for the oldest, up to another, not included. */
export interface Some {
  readonly from: number;
  readonly to: number;
  readonly total: number;
  readonly days: number;
  readonly lastEveningMs: number;
  /** How many of the newest have a take of ten seconds that is noise; none where absent. */
  readonly takes?: number;
}

/** Odd, so that every place has another number. Source: Knuth, The Art of Computer Programming, vol. 3, section 6.4. */
const SCATTER = 2_654_435_761;

/** As the ids the program makes, ids of neighbours lie far apart. */
const idOf = (place: number): string =>
  `made-${(Math.imul(place, SCATTER) >>> 0).toString(16).padStart(8, "0")}`;

/** Ten seconds as a sound card gives them, as large as packed noise is; nobody listens to it. */
function noiseTake(random: () => number): StoredEntry["take"] {
  const packed = Uint8Array.from({ length: 700_000 }, () => 256 * random());
  return { sampleRateHz: 48_000, count: 480_000, step: 1 / 32_768, packed };
}

/** Some of a large history: attempts a minute apart, as many each evening, over so many days up to the last. */
export function someOfMany(
  pool: readonly DemoAttempt[],
  { from, to, total, days, lastEveningMs, takes = 0 }: Some,
): readonly StoredEntry[] {
  const aDay = Math.ceil(total / days);
  const random = seededRandom(from + 1);
  return Array.from({ length: to - from }, (_, n) => {
    const place = from + n;
    const day = Math.floor(place / aDay);
    const atEpochMs = lastEveningMs - (days - 1 - day) * DAY_MS + (place % aDay) * MINUTE_MS;
    // Neighbours in the pool are tries at one thing: each evening begins somewhere else in it.
    const take = place < total - takes ? null : noiseTake(random);
    const number = (place % aDay) + day * 37 + Math.floor(random() * 2);
    return { ...entryOf(pool, number, atEpochMs), id: idOf(place), take };
  });
}
