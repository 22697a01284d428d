import {
  countInSeconds,
  type Exercise,
  type ExpectedNote,
  lengthOf,
  onsetOf,
  playingSeconds,
  targetMidi,
} from "../exercise/exercise.ts";
import { gaussian, type Random } from "../exercise/seeded-random.ts";
import { reedNote } from "../instrument/harp.ts";
import type { ReedAction } from "../instrument/reed-actions.ts";
import type { HeardNote, Listening } from "../listen/listening.ts";
import { type Cents, type Milliseconds, type Seconds, seconds } from "../units.ts";
import { heardNote, listeningOf } from "./perfect-ear.ts";
import { neighbourNote } from "./plants.ts";

/** How a made-up player plays just now. */
export interface Form {
  /** Share of notes missed or played in the hole beside, 0..1. */
  readonly slips: number;
  /** The same of reed actions this player is weak at; a weak bend comes out as the plain reed. */
  readonly weakSlips: number;
  /** How far all notes lie from their target; positive is sharp. */
  readonly biasCents: Cents;
  readonly spreadCents: Cents;
  /** How much further up bends lie: too shallow. */
  readonly shallowCents: Cents;
  readonly bendSpreadCents: Cents;
  /** Positive is late. */
  readonly lateMs: Milliseconds;
  readonly spreadMs: Milliseconds;
}

/** The delay of this player's sound path, taken off when marking. */
export const DEMO_LATENCY_SECONDS = 0.038 as Seconds;

/** What the made-up player is weak at, on any harp: the bends of hole 3, and the draw reed where the breath turns round. */
export const isWeak = ({ hole, breath, technique }: ReedAction): boolean =>
  breath === "draw" && ((hole === 3 && technique === "bend") || (hole === 7 && technique === "plain"));

/** Seconds between the end of one note and the beginning of the next. */
const GAP_SECONDS = 0.012;
/** The way to the pitch and off it, of a note's length. */
const SETTLED_SHARE = 0.7;
const TAIL_SECONDS = 0.6;
/** No note comes further from its beat than this share of its length: they stay in their order. */
const FURTHEST = 0.35;

/** What a perfect ear hears of an exercise played in that form. The same random numbers give the same notes. */
export function hearDemoPlayer(exercise: Exercise, form: Form, random: Random): Listening {
  const normal = gaussian(random);
  const lead = countInSeconds(exercise) + DEMO_LATENCY_SECONDS;
  const played = exercise.notes.flatMap((note) => {
    const lengthSeconds = lengthOf(exercise, note);
    const off = (form.lateMs + form.spreadMs * normal()) / 1000;
    const furthest = FURTHEST * lengthSeconds;
    const onSeconds =
      lead + onsetOf(exercise, note) + Math.max(-furthest, Math.min(furthest, off)) + turnOfBreath(note);
    const right = targetMidi(exercise, note) + centsOff(note, form, normal) / 100;
    const sounds = soundedOf(exercise, note, right, form, random);
    return sounds === null ? [] : [{ onSeconds, lengthSeconds, sounds }];
  });
  const notes = played.map(({ onSeconds, lengthSeconds, sounds }, place): HeardNote => {
    const next = played[place + 1]?.onSeconds ?? Number.POSITIVE_INFINITY;
    const offSeconds = Math.min(onSeconds + lengthSeconds, next) - GAP_SECONDS;
    return heardNote(onSeconds, sounds, {
      offSeconds: seconds(offSeconds),
      settledSeconds: seconds(SETTLED_SHARE * (offSeconds - onSeconds)),
    });
  });
  return listeningOf(notes, countInSeconds(exercise) + playingSeconds(exercise) + TAIL_SECONDS);
}

/** Seconds that a weak plain note is late: the player thinks where the breath turns. */
const turnOfBreath = ({ action }: ExpectedNote): number =>
  isWeak(action) && action.technique === "plain" ? 0.018 : 0;

function centsOff({ action }: ExpectedNote, form: Form, normal: Random): number {
  if (action.technique === "plain") return form.biasCents + form.spreadCents * normal();
  return form.biasCents + form.shallowCents + form.bendSpreadCents * normal();
}

/** The pitch that sounds instead of the right one, or the right one; null for none. */
function soundedOf(
  exercise: Exercise,
  note: ExpectedNote,
  right: number,
  form: Form,
  random: Random,
): number | null {
  const [slips, kind] = [random(), random()];
  if (slips >= (isWeak(note.action) ? form.weakSlips : form.slips)) return right;
  const { hole, breath, technique } = note.action;
  if (kind < 0.3) return null;
  const plain = technique === "plain" ? null : reedNote(exercise.harp, hole, breath);
  return (plain ?? neighbourNote(exercise, note)) + right - note.midi;
}
