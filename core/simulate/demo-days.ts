import { countInSeconds, type Exercise } from "../exercise/exercise.ts";
import { gaussian, type Random, seededRandom } from "../exercise/seeded-random.ts";
import type { Attempt } from "../score/attempt.ts";
import { scoreTake, USUAL_SETTINGS } from "../score/score-take.ts";
import { milliseconds } from "../units.ts";
import { formOf, type Mood, moodOf } from "./demo-form.ts";
import { DEMO_LATENCY_SECONDS, hearDemoPlayer } from "./demo-player.ts";
import { type DemoRepertoire, type DemoTune, demoRepertoire } from "./demo-repertoire.ts";

/** An attempt that nobody played, marked like any other. It has no take. */
export interface DemoAttempt {
  readonly demo: true;
  readonly atEpochMs: number;
  /** IANA name of the time zone. */
  readonly zone: string;
  readonly exercise: Exercise;
  readonly attempt: Attempt;
}

export interface DemoSetting {
  readonly seed: number;
  /** When the practice of the last day began, milliseconds since 1970; those before began about so many times 24 hours earlier. */
  readonly lastBeginsEpochMs: number;
  readonly zone: string;
  /** Three of them are worked at; fewer make fewer things to do. */
  readonly tunes: readonly DemoTune[];
}

export const DEMO_DAYS = 30;
const DAY_MS = 86_400_000;
/** Attempts of a day. */
export const FEWEST = 6;
export const MOST = 15;
/** Things that are taken in turn on one day, besides the warm-up and what is done daily. */
const IN_TURN = 3;
/** No thing is tried more often on one day than this. */
const MOST_TRIES = 4;
/** Pause between two attempts. */
const PAUSE_MS = { least: 15_000, more: 45_000 };

/**
 * Made-up days of practice of one player, oldest first, a day at a time. Every attempt is a listening of a made-up player,
 * marked by the real marking. Pure: the same setting gives the same days.
 *
 * @returns the attempts of one day after another, `DEMO_DAYS` times; none on a day of rest
 */
export function* demoDays(setting: DemoSetting): Generator<readonly DemoAttempt[], void> {
  const random = seededRandom(setting.seed);
  const normal = gaussian(random);
  const repertoire = demoRepertoire(setting.tunes);
  let turn = 0;
  for (let day = 0; day < DEMO_DAYS; day++) {
    const mood = moodOf(normal);
    if (isRest(day, random)) {
      yield [];
      continue;
    }
    const things = thingsOf(day < DEMO_DAYS / 2, turn++, repertoire);
    const beginsEpochMs = setting.lastBeginsEpochMs - (DEMO_DAYS - 1 - day) * DAY_MS;
    yield dayOf(setting, { day, beginsEpochMs, mood }, triesOf(repertoire.warmUp, things, random), random);
  }
}

/** Every seventh day, and one in twelve of the others; never the first or the last. */
function isRest(day: number, random: Random): boolean {
  const chance = random();
  return day > 0 && day < DEMO_DAYS - 1 && (day % 7 === 6 || chance < 1 / 12);
}

interface OneTry {
  readonly exercise: Exercise;
  /** How often the same was tried before on that day. */
  readonly tried: number;
}

/** What is worked at on a day besides the warm-up; all turns of one thing are as many days of practice apart. */
function thingsOf(
  isFirstHalf: boolean,
  turn: number,
  { daily, inTurn, later }: DemoRepertoire,
): readonly Exercise[] {
  const all = isFirstHalf ? inTurn : [...inTurn, ...later];
  const some = Array.from(
    { length: Math.min(IN_TURN, all.length) },
    (_, n) => all[(IN_TURN * turn + n) % all.length],
  );
  return [daily, ...some.filter((one) => one !== undefined)];
}

/** What is tried on a day, in order: the warm-up once, then one thing after another, each several times on end. */
function triesOf(warmUp: Exercise, things: readonly Exercise[], random: Random): readonly OneTry[] {
  const count = FEWEST + Math.floor((MOST - FEWEST + 1) * random());
  const tries = spread(count - 1, things.length);
  return [
    { exercise: warmUp, tried: 0 },
    ...things.flatMap((exercise, n) =>
      Array.from({ length: tries[n] ?? 0 }, (_, tried) => ({ exercise, tried })),
    ),
  ];
}

/** So many tries over so many things, as evenly as can be, the first ones more. */
const spread = (tries: number, things: number): readonly number[] =>
  Array.from({ length: things }, (_, n) =>
    Math.min(MOST_TRIES, Math.floor((tries + things - 1 - n) / things)),
  );

interface Day {
  readonly day: number;
  readonly beginsEpochMs: number;
  readonly mood: Mood;
}

function dayOf(
  { zone }: DemoSetting,
  day: Day,
  tries: readonly OneTry[],
  random: Random,
): readonly DemoAttempt[] {
  const share = day.day / (DEMO_DAYS - 1);
  let atEpochMs = day.beginsEpochMs + Math.floor(20 * 60_000 * random());
  return tries.map(({ exercise, tried }) => {
    const attempt = attemptOf(exercise, formOf(share, tried, day.mood), random);
    const made = { demo: true, atEpochMs, zone, exercise, attempt } as const;
    atEpochMs += Math.round(1000 * attempt.take.durationSeconds + PAUSE_MS.least + PAUSE_MS.more * random());
    return made;
  });
}

const attemptOf = (exercise: Exercise, form: ReturnType<typeof formOf>, random: Random): Attempt =>
  scoreTake(exercise, hearDemoPlayer(exercise, form, random), {
    ...USUAL_SETTINGS,
    latencyMs: milliseconds(1000 * DEMO_LATENCY_SECONDS),
    beatZeroSeconds: countInSeconds(exercise),
  });
