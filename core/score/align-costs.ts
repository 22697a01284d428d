/** A written note as alignment sees it. */
export interface Written {
  /** Seconds from beat 0 at the tempo asked for. */
  readonly onSeconds: number;
  readonly lengthSeconds: number;
  /** Fractional MIDI of the target. */
  readonly midi: number;
  /** True for the first note of a bar, where players begin again. */
  readonly startsBar: boolean;
}

/** A heard note as alignment sees it. */
export interface Played {
  readonly onSeconds: number;
  /** Null where no pitch was read. */
  readonly midi: number | null;
  /** Cost of leaving it unpaired, 0..1: little for an ornament or a click, 1 for a plain note. */
  readonly aloneCost: number;
  /** True for a sound too short to be a written note by itself: an ornament, or a click. */
  readonly short: boolean;
}

/** What the pairing is done by. */
export interface AlignSettings {
  /** Pitch distance up to which a played note is the written one, > 0; the end counts as inside. */
  readonly rightNoteCents: number;
  /** Where beat 0 is believed to lie on the clock of the played notes. */
  readonly startSeconds: number;
  /** Seconds played for each second written: 2 at half the tempo. */
  readonly stretch: number;
}

/** One written note answered by one played note. */
export interface Visit {
  readonly written: number;
  readonly played: number;
}

/** Cost of leaving a written note unanswered; a passage left out costs no more than its first notes. */
const MISSED = 1;
const MOST_MISSED = 4;
/** Of two ways to leave out a passage, the one that leaves out fewer notes. */
const LEFT_OUT_EACH = 1e-4;
/** Cost of a plain played note that answers nothing, of one without a pitch, of an ornament, of a note going on after one. */
export const EXTRA = 1;
export const UNREAD_EXTRA = 0.3;
export const ORNAMENT = 0.15;
export const GOING_ON = 0.1;
/** A wrong pitch costs more than either but less than both, so that a wrong note near its beat is one mistake, not two. */
const WRONG_PITCH = 1.2;
/** A sound without a readable pitch may be the note asked for. */
const UNREAD_PITCH = 0.5;
/** A sound of an ornament's length is more likely one than the note asked for. */
const SHORT_ANSWER = 0.3;
/** Going back to play something again: cheaper from the beginning of a bar. */
const AGAIN_FROM_BAR = 1.2;
const AGAIN_FROM_ELSEWHERE = 1.7;

/** A note that comes a whole note's length early or late costs this much twice: before it and after it. */
const TIME_EACH = 0.5;
/** A distance from the note before that is off by this share of the note's length costs `TIME_EACH`. */
const TIME_SCALE = 0.6;
const LEAST_TIME_SCALE_SECONDS = 0.08;
/** Being off in time costs at most this, so that the right note far from its beat still counts as played. */
const MOST_FOR_TIME = 0.8;

/** Up to so many written notes further on, and played ones, the distance in time between two answers is weighed. */
export const NEAR_WRITTEN = 4;
export const NEAR_PLAYED = 6;

/** Going back costs at most this. */
export const MOST_FOR_AGAIN = AGAIN_FROM_ELSEWHERE;

/** Whether a played note has the pitch of a written one. */
export function isRight(written: Written, played: Played, rightNoteCents: number): boolean {
  return played.midi !== null && isRightPitch(written, played.midi, rightNoteCents);
}

/** As `isRight`, for a pitch. What arithmetic adds to a distance of exactly so many cents does not count. */
export function isRightPitch(written: Written, midi: number, rightNoteCents: number): boolean {
  return Math.abs(midi - written.midi) * 100 <= rightNoteCents + 1e-6;
}

/** Cost of calling a played note the answer to a written one, time aside; Infinity for a short one without a pitch. */
export function pairCost(written: Written, played: Played, rightNoteCents: number): number {
  const short = played.short ? SHORT_ANSWER : 0;
  if (played.midi === null) return played.short ? Number.POSITIVE_INFINITY : UNREAD_PITCH;
  const offCents = Math.abs(played.midi - written.midi) * 100;
  // The small term lets a choice between two near pitches fall to the nearer.
  if (isRight(written, played, rightNoteCents)) return (0.1 * offCents) / rightNoteCents + short;
  return WRONG_PITCH + short;
}

/** Cost of `count` written notes in a row left unanswered. */
export function missedCost(count: number): number {
  return Math.min(MISSED * count, MOST_MISSED) + LEFT_OUT_EACH * count;
}

/** Cost of going back to a written note to play on from there once more. */
export function againCost(landing: Written): number {
  return landing.startsBar ? AGAIN_FROM_BAR : AGAIN_FROM_ELSEWHERE;
}

/** Cost of a jump forward over `missed` notes whose time is not weighed. */
export function jumpCost(missed: number): number {
  return missedCost(missed) + MOST_FOR_TIME;
}

/**
 * Cost of the distance in time between two answers.
 *
 * @param writtenSeconds from the one written note to the other
 * @param playedSeconds  from the one played note to the other
 */
export function timeCost(
  writtenSeconds: number,
  playedSeconds: number,
  landing: Written,
  stretch: number,
): number {
  const scale = Math.max(LEAST_TIME_SCALE_SECONDS, TIME_SCALE * stretch * landing.lengthSeconds);
  return Math.min(MOST_FOR_TIME, (TIME_EACH * Math.abs(playedSeconds - stretch * writtenSeconds)) / scale);
}

/**
 * Cost of going from one answer to the next, what stays unpaired between them aside; Infinity where that way is barred.
 *
 * A near answer, forward by at most `NEAR_WRITTEN` written and `NEAR_PLAYED` played notes, is weighed by its distance in
 * time. Any other way is a jump and has to land on a right note.
 *
 * @param from null for the beginning, which counts as a written note -1 sounded at beat 0
 */
export function stepCost(
  from: Visit | null,
  to: Visit,
  written: readonly Written[],
  played: readonly Played[],
  settings: AlignSettings,
): number {
  const landing = written[to.written];
  const heard = played[to.played];
  if (landing === undefined || heard === undefined)
    throw new RangeError(`no notes ${to.written}, ${to.played}`);
  const before = from ?? { written: -1, played: -1 };
  const pair = pairCost(landing, heard, settings.rightNoteCents);
  const forward = to.written - before.written;
  if (forward >= 1 && forward <= NEAR_WRITTEN && to.played - before.played <= NEAR_PLAYED) {
    const writtenSeconds = landing.onSeconds - (written[before.written]?.onSeconds ?? 0);
    const playedSeconds = heard.onSeconds - (played[before.played]?.onSeconds ?? settings.startSeconds);
    const time = timeCost(writtenSeconds, playedSeconds, landing, settings.stretch);
    return missedCost(forward - 1) + time + pair;
  }
  if (!isRight(landing, heard, settings.rightNoteCents)) return Number.POSITIVE_INFINITY;
  return (forward >= 1 ? jumpCost(forward - 1) : againCost(landing)) + pair;
}

/** Total cost of a path: what `align` makes least. */
export function pathCost(
  path: readonly Visit[],
  written: readonly Written[],
  played: readonly Played[],
  settings: AlignSettings,
): number {
  const paired = new Set(path.map((visit) => visit.played));
  const alone = played.reduce((sum, note, place) => sum + (paired.has(place) ? 0 : note.aloneCost), 0);
  const steps = path.reduce(
    (sum, visit, place) => sum + stepCost(path[place - 1] ?? null, visit, written, played, settings),
    0,
  );
  const last = path.at(-1)?.written ?? -1;
  return alone + steps + missedCost(written.length - 1 - last);
}
