import type { Milliseconds } from "../units.ts";
import { milliseconds } from "../units.ts";
import type { MsFrom, StretchBegins } from "./attempt.ts";
import { median, steadyLine } from "./statistics.ts";

/** An expected note that was answered; both times in seconds, the written one from beat 0 at the tempo asked for. */
export interface Answer {
  readonly index: number;
  readonly writtenSeconds: number;
  readonly lengthSeconds: number;
  /** On the take's clock, latency taken off. */
  readonly onSeconds: number;
  /** True for the first note after an abandoned try. */
  readonly again: boolean;
}

/** Notes played on end, without a stop, a skip or a new beginning between them. */
export interface Stretch {
  readonly begins: StretchBegins;
  readonly answers: readonly Answer[];
}

/** So many notes on either side tell whether the beat has moved, rather than one note come late. */
const NEIGHBOURS = 4;
/** A rest longer by this than written is a stop; a shorter one still a rest taken long. */
const LEAST_STOP_SECONDS = 0.4;
const LEAST_STOP_BEATS = 0.75;
/** At the player's own pace a note may be held for long before that is a stop. */
const LEAST_STOP_BEATS_WITHOUT_BEAT = 2;
/** Who comes in early by this share of what was left out has gone on without it. */
const SKIPPED_SHARE = 0.5;
const LEAST_SKIP_SECONDS = 0.06;

/** How a take as a whole was played. */
export interface Playing {
  /** Seconds played for each second written. */
  readonly stretch: number;
  readonly beatSeconds: number;
  /** Whether there was a beat to keep to. */
  readonly hasBeat: boolean;
}

export function splitIntoStretches(answers: readonly Answer[], playing: Playing): readonly Stretch[] {
  const found: { begins: StretchBegins; answers: Answer[] }[] = [];
  for (const [place, answer] of answers.entries()) {
    const begins = place === 0 ? "start" : howItBegins(answers, place, playing);
    if (begins === null) found.at(-1)?.answers.push(answer);
    else found.push({ begins, answers: [answer] });
  }
  return withoutFalseSkips(found, playing.stretch);
}

/** From so many notes on a stretch tells its own tempo better than the take as a whole does. */
const LEAST_FOR_OWN_LINE = 8;

/**
 * Who leaves notes out and goes on stays ahead of the beat. Where the last notes before such a stretch lie on the line of
 * its own notes, a few sounded early and nobody skipped: it goes on as the stretch it was.
 */
function withoutFalseSkips(found: readonly Stretch[], slowness: number): readonly Stretch[] {
  const kept: Stretch[] = [];
  for (const stretch of found) {
    const before = kept.at(-1);
    const wentNowhere =
      before !== undefined &&
      stretch.begins === "skip" &&
      Math.abs(aheadOf(before, stretch, slowness)) < LEAST_SKIP_SECONDS;
    if (wentNowhere) kept[kept.length - 1] = { ...before, answers: [...before.answers, ...stretch.answers] };
    else kept.push(stretch);
  }
  return kept;
}

/** Seconds by which the last notes of one stretch come later than the line of the next, carried back, has them. */
function aheadOf(before: Stretch, { answers }: Stretch, slowness: number): number {
  const own =
    answers.length < LEAST_FOR_OWN_LINE
      ? null
      : steadyLine(answers.map((one) => ({ x: one.writtenSeconds, y: one.onSeconds })));
  const slope = own?.slope ?? slowness;
  const zero = (one: Answer) => one.onSeconds - slope * one.writtenSeconds;
  const atZero = own?.atZero ?? median(answers.map(zero)) ?? 0;
  return (median(before.answers.slice(-NEIGHBOURS).map(zero)) ?? 0) - atZero;
}

/** How a new stretch begins with an answer; null where the one before goes on. */
function howItBegins(
  answers: readonly Answer[],
  place: number,
  { stretch, beatSeconds, hasBeat }: Playing,
): StretchBegins | null {
  const before = answers[place - 1];
  const answer = answers[place];
  if (before === undefined || answer === undefined) return null;
  if (answer.again) return "again";
  const zero = (one: Answer) => one.onSeconds - stretch * one.writtenSeconds;
  const middle = (some: readonly Answer[]) => median(some.map(zero)) ?? 0;
  const step = zero(answer) - zero(before);
  const lasting =
    middle(answers.slice(place, place + NEIGHBOURS)) -
    middle(answers.slice(Math.max(0, place - NEIGHBOURS), place));
  const moved = Math.sign(step) * Math.min(Math.abs(step), Math.abs(lasting));
  if (Math.sign(step) !== Math.sign(lasting)) return null;
  const stopBeats = hasBeat ? LEAST_STOP_BEATS : LEAST_STOP_BEATS_WITHOUT_BEAT;
  const stop = stretch * Math.max(LEAST_STOP_SECONDS, stopBeats * beatSeconds);
  if (moved > stop) return "stop";
  const leftOut = stretch * (answer.writtenSeconds - before.writtenSeconds - before.lengthSeconds);
  const missed = answer.index - before.index > 1;
  if (missed && -moved > Math.max(LEAST_SKIP_SECONDS, SKIPPED_SHARE * leftOut)) return "skip";
  return -moved > stop ? "skip" : null;
}

/** What an onset is measured from, and by how much it is off. */
export interface Timed {
  readonly ms: Milliseconds | null;
  readonly from: MsFrom | null;
}

/** Neighbours on either side that a player's own tempo is read from. */
const TEMPO_NEIGHBOURS = 6;
/** At either end of a stretch, in all: fewer would follow one late note, more not a tempo that changes. */
const LEAST_TEMPO_NEIGHBOURS = 8;
/** So many notes on either side tell a drift. */
const COURSE_NEIGHBOURS = 2;
/** The beat is lost where a stretch gets away from it by more than this. */
const LOST_BEATS = 0.5;
/** Who starts this much later than asked started late; less is a bias. */
export const startLimit = (beatSeconds: number): number =>
  Math.max(LEAST_STOP_SECONDS, LEAST_STOP_BEATS * beatSeconds);

/**
 * Onset errors of all answers, by index of the expected note.
 *
 * The first stretch is measured from the beat. A later one is measured from where the player went on, so that its notes
 * lie around the same middle as those before. A stretch that drifts half a beat away from its beat is measured from the
 * player's own tempo there: a straight line through the notes on either side.
 *
 * @param beatZeroSeconds where beat 0 lies, or null where the start itself has to be taken from the notes
 */
export function timeAnswers(
  stretches: readonly Stretch[],
  beatZeroSeconds: number | null,
  beatSeconds: number,
): ReadonlyMap<number, Timed> {
  const timed = new Map<number, Timed>();
  let usual = 0;
  for (const [place, { answers }] of stretches.entries()) {
    const first = place === 0 && beatZeroSeconds !== null;
    const zero = first ? beatZeroSeconds : wentOnFrom(answers) - usual;
    const errors = answers.map((answer) => answer.onSeconds - zero - answer.writtenSeconds);
    const middle = median(errors) ?? 0;
    const lost = coursesOf(errors).some((error) => Math.abs(error - middle) > LOST_BEATS * beatSeconds);
    if (first && !lost) usual = middle;
    for (const [at, answer] of answers.entries()) {
      const error = lost ? fromOwnTempo(answers, at) : (errors[at] ?? null);
      const alone = answers.length < 2 && !first;
      timed.set(
        answer.index,
        error === null || alone
          ? { ms: null, from: null }
          : {
              ms: milliseconds(1000 * error),
              from: lost ? "own tempo" : first ? "beat" : "where it went on",
            },
      );
    }
  }
  return timed;
}

/** Errors as the notes around share them: a drift takes those along, a note far off by itself does not. */
function coursesOf(errors: readonly number[]): readonly number[] {
  return errors.map((_, at) => {
    const from = Math.max(0, Math.min(at - COURSE_NEIGHBOURS, errors.length - 1 - 2 * COURSE_NEIGHBOURS));
    return median(errors.slice(from, from + 2 * COURSE_NEIGHBOURS + 1)) ?? 0;
  });
}

/** Beat 0 as the first notes of a stretch have it. */
function wentOnFrom(answers: readonly Answer[]): number {
  return median(answers.slice(0, 2 * NEIGHBOURS).map((one) => one.onSeconds - one.writtenSeconds)) ?? 0;
}

/** Seconds from where the notes on either side would put this one; null with too few of them. */
export function fromOwnTempo(answers: readonly Answer[], at: number): number | null {
  const answer = answers[at];
  const line = ownTempo(answers, at);
  if (answer === undefined || line === null) return null;
  return answer.onSeconds - line.atZero - line.slope * answer.writtenSeconds;
}

/**
 * The straight line of onset over written time through the notes on either side, one note come early or late among them
 * counting no more than any other; null with fewer than three.
 */
export function ownTempo(answers: readonly Answer[], at: number) {
  const last = answers.length - 1;
  const from = Math.max(0, Math.min(at - TEMPO_NEIGHBOURS, last - LEAST_TEMPO_NEIGHBOURS));
  const to = Math.min(last, Math.max(at + TEMPO_NEIGHBOURS, LEAST_TEMPO_NEIGHBOURS));
  const around = answers.slice(from, to + 1).filter((one) => one !== answers[at]);
  return steadyLine(around.map((one) => ({ x: one.writtenSeconds, y: one.onSeconds })));
}
