/** A simulated player's months of practice, day by day. */
import type { Exercise } from "../../../core/exercise/exercise.ts";
import { gaussian, type Random, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { factOf, type SessionFact } from "../../../core/progress/counts/session-fact.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { FIRST_DAY } from "../../support/session-facts.ts";
import { exercises } from "./exercises.ts";
import { type Form, heard, keptRight, marked, play } from "./played.ts";

/**
 * How a player scatters. No measurement of harmonica players from day to day was found; every number is common practice [P],
 * set beside the output so that nobody takes it for more.
 */
export interface Scatter {
  /** Deviation of the day's form: spreads and slips go up and down together by this share from day to day. */
  readonly dayShare: number;
  /** The same of one attempt. */
  readonly attemptShare: number;
  /** Share of days that are bad, and how much wider spreads are then. */
  readonly badDays: number;
  readonly badFactor: number;
  /** How much wider the very first attempt of a day is; what is left of it halves with every attempt. */
  readonly coldShare: number;
  /** Deviation of where all notes of a day lie. */
  readonly dayCents: number;
  readonly dayMs: number;
  /** Cents by which a cold harp is flat at the first attempt; halves with every attempt. */
  readonly coldCents: number;
  /** Deviation of the reeds' own tuning. */
  readonly reedCents: number;
}

export const USUAL_SCATTER: Scatter = {
  dayShare: 0.05,
  attemptShare: 0.05,
  badDays: 0.1,
  badFactor: 1.25,
  coldShare: 0.15,
  dayCents: 3,
  dayMs: 6,
  coldCents: 4,
  reedCents: 3,
};

export const USUAL_FORM: Form = {
  missed: 0.07,
  biasCents: -2,
  spreadCents: 12,
  bendCents: -12,
  bendSpreadCents: 16,
  biasMs: 10,
  spreadMs: 25,
  reedCents: new Map(),
  missedAt: new Map(),
};

export interface Habits {
  readonly sessions: number;
  /** Attempts at each exercise on a day: drawn between these, ends included, for a share of the way 0..1. */
  readonly attempts: (way: number) => readonly [number, number];
  /** Chance that an exercise is practised on a day, by its place and the share of the way. */
  readonly practised: (place: number, way: number) => number;
  readonly exercises: readonly Exercise[];
  readonly scatter: Scatter;
  /** The form without scatter, at a share 0..1 of the way from the first session to the last. */
  readonly form: (way: number, own: Form) => Form;
  /** Whether attempts go by way of heard notes and `scoreTake`. */
  readonly real: boolean;
}

export const USUAL_HABITS: Habits = {
  sessions: 20,
  attempts: () => [2, 4],
  practised: () => 0.85,
  exercises: exercises(),
  scatter: USUAL_SCATTER,
  form: (_, own) => own,
  real: false,
};

/** All attempts of one player. The same seed gives the same. */
export function practise(habits: Habits, seed: number, own: Form = USUAL_FORM): readonly SessionFact[] {
  const random = seededRandom(seed);
  const normal = gaussian(random);
  const reedCents = ownReeds(habits, normal);
  const facts: SessionFact[] = [];
  let date = FIRST_DAY;
  for (let session = 0; session < habits.sessions; session++) {
    const way = habits.sessions < 2 ? 0 : session / (habits.sessions - 1);
    const form = { ...habits.form(way, own), reedCents };
    facts.push(...dayOf(habits, { form, way, date }, random, normal));
    // Most days, now and then with some left out.
    date += random() < 0.75 ? 1 : 2 + Math.floor(3 * random());
  }
  return facts;
}

function ownReeds({ exercises: all, scatter }: Habits, normal: Random): ReadonlyMap<string, number> {
  const tabs = new Set(all.flatMap(({ notes }) => notes.map(({ tab }) => tab)));
  return new Map([...tabs].map((tab) => [tab, scatter.reedCents * normal()]));
}

interface Day {
  readonly form: Form;
  readonly way: number;
  /** Days since 1970-01-01. */
  readonly date: number;
}

function dayOf(
  habits: Habits,
  { form, way, date }: Day,
  random: Random,
  normal: Random,
): readonly SessionFact[] {
  const { scatter } = habits;
  const bad = random() < scatter.badDays ? scatter.badFactor : 1;
  const whole = bad * Math.exp(scatter.dayShare * normal());
  const today: Form = {
    ...form,
    missed: form.missed * whole,
    missedAt: new Map([...form.missedAt].map(([tab, share]) => [tab, share * whole])),
    biasCents: form.biasCents + scatter.dayCents * normal(),
    spreadCents: form.spreadCents * whole,
    bendCents: form.bendCents * whole,
    bendSpreadCents: form.bendSpreadCents * whole,
    biasMs: form.biasMs + scatter.dayMs * normal(),
    spreadMs: form.spreadMs * whole,
  };
  const chosen = habits.exercises.filter((_, place) => random() < habits.practised(place, way));
  const [least, most] = habits.attempts(way);
  const facts: SessionFact[] = [];
  for (const exercise of shuffled(chosen.length > 0 ? chosen : habits.exercises.slice(0, 1), random)) {
    const attempts = least + Math.floor((most - least + 1) * random());
    for (let attempt = 0; attempt < attempts; attempt++) {
      const cold = 0.5 ** facts.length;
      const wider = (1 + scatter.coldShare * cold) * Math.exp(scatter.attemptShare * normal());
      const now: Form = {
        ...today,
        missed: today.missed * wider,
        biasCents: today.biasCents - scatter.coldCents * cold,
        spreadCents: today.spreadCents * wider,
        bendSpreadCents: today.bendSpreadCents * wider,
        spreadMs: today.spreadMs * wider,
      };
      const played = keptRight(play(exercise, now, normal, random));
      // Ten in the morning and every five minutes after.
      const atEpochMs = date * 86_400_000 + (600 + 5 * facts.length) * 60_000;
      facts.push(factFor(habits, exercise, played, atEpochMs));
    }
  }
  return facts;
}

function shuffled<Kind>(all: readonly Kind[], random: Random): readonly Kind[] {
  return all
    .map((one) => ({ one, at: random() }))
    .sort((a, b) => a.at - b.at)
    .map(({ one }) => one);
}

/** What all attempts at an exercise have in common, marked once for real. */
const templates = new Map<Exercise, ReturnType<typeof scoreTake>>();

function factFor(
  { real }: Habits,
  exercise: Exercise,
  played: ReturnType<typeof play>,
  atEpochMs: number,
): SessionFact {
  const kept = { id: String(atEpochMs), atEpochMs, zone: "UTC", exercise };
  if (real) return factOf({ ...kept, attempt: scoreTake(exercise, heard(exercise, played)) });
  const template = templates.get(exercise) ?? scoreTake(exercise, heard(exercise, played));
  templates.set(exercise, template);
  return factOf({ ...kept, attempt: { ...template, ...marked(exercise, played) } });
}
