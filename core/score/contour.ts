import type { Frame, HeardNote } from "../listen/listening.ts";
import { centsBetween, hzToMidi } from "../pitch/equal-temperament.ts";
import { cents, type Midi, milliseconds, seconds } from "../units.ts";
import type { Hold, Slide } from "./mark.ts";
import { fitLine, median } from "./statistics.ts";

/** A point of a note's pitch. */
interface Point {
  readonly atSeconds: number;
  readonly cents: number;
}

/** Below 10 to 20 cents listeners do not tell pitches of a melody apart (Parncutt and Cohen 1995). */
const LEAST_SLIDE_CENTS = 20;
/** The window that pitch is read from is 43 ms long: a shorter slide cannot be told from an attack. */
const LEAST_SLIDE_SECONDS = 0.03;
/** A slide has arrived within this of the settled pitch. */
const ARRIVED_CENTS = 8;
/** In a vibrato every beginning and end is off the middle. */
const SWINGS_OF_SPREAD = 2;
/** A slide that takes more than this share of its note is the note. */
const MOST_OF_NOTE = 0.6;

/** The slide into a note's settled pitch; null where there is none worth telling. */
export function scoopOf(frames: readonly Frame[], note: HeardNote): Slide | null {
  return slideOf(pointsOf(frames, note), note, note.onSeconds);
}

/** The slide off a note's settled pitch at its end; null where there is none worth telling. */
export function fallOf(frames: readonly Frame[], note: HeardNote): Slide | null {
  return slideOf([...pointsOf(frames, note)].reverse(), note, note.offSeconds);
}

/** @param points from the outer end of the note inwards */
function slideOf(points: readonly Point[], note: HeardNote, endSeconds: number): Slide | null {
  const least = Math.max(LEAST_SLIDE_CENTS, SWINGS_OF_SPREAD * (note.spreadCents ?? 0));
  const arrived = points.findIndex(
    (point, place) =>
      Math.abs(point.cents) <= ARRIVED_CENTS && Math.abs(points[place + 1]?.cents ?? 0) <= ARRIVED_CENTS,
  );
  const arrival = points[arrived];
  if (arrival === undefined) return null;
  const way = points.slice(0, arrived);
  const furthest = way.reduce((far, point) => (Math.abs(point.cents) > Math.abs(far) ? point.cents : far), 0);
  const took = Math.abs(arrival.atSeconds - endSeconds);
  const whole = note.offSeconds - note.onSeconds;
  const oneWay = way.every((point) => point.cents * furthest > 0);
  if (!oneWay || Math.abs(furthest) < least || took < LEAST_SLIDE_SECONDS || took > MOST_OF_NOTE * whole)
    return null;
  return { cents: cents(furthest), ms: milliseconds(1000 * took) };
}

/** The frames of a note as cents from its settled pitch, by time; none where it has no pitch. */
function pointsOf(frames: readonly Frame[], note: HeardNote): readonly Point[] {
  return note.pitchMidi === null
    ? []
    : pointsBetween(frames, note.onSeconds, note.offSeconds, note.pitchMidi);
}

function pointsBetween(frames: readonly Frame[], from: number, to: number, zero: Midi): readonly Point[] {
  const points: Point[] = [];
  for (let i = firstAt(frames, from); i < frames.length; i++) {
    const frame = frames[i];
    if (frame === undefined || frame.atSeconds > to) break;
    if (frame.voiced && frame.pitchHz !== null)
      points.push({ atSeconds: frame.atSeconds, cents: centsBetween(hzToMidi(frame.pitchHz), zero) });
  }
  return points;
}

/** Index of the first frame at or after a time. */
function firstAt(frames: readonly Frame[], time: number): number {
  let low = 0;
  let high = frames.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((frames[middle]?.atSeconds ?? 0) < time) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** A shorter tone is not held. */
export const LEAST_HOLD_SECONDS = 0.5;
/** The attack, and the end where the breath stops, belong to no hold. */
const ATTACK_SECONDS = 0.1;
const RELEASE_SECONDS = 0.06;
const LEAST_HOLD_FRAMES = 20;
/** A frame this far off was read off another octave or another sound. */
const STRAY_CENTS = 150;

/**
 * How a tone was held.
 *
 * @param parts  the tone, in the parts it was heard in, by time
 * @param target what it should sound, the reed's own offset added
 * @returns null for a tone under `LEAST_HOLD_SECONDS`
 */
export function holdOf(frames: readonly Frame[], parts: readonly HeardNote[], target: Midi): Hold | null {
  const first = parts[0];
  const last = parts.at(-1);
  if (first === undefined || last === undefined) return null;
  const length = last.offSeconds - first.onSeconds;
  if (length < LEAST_HOLD_SECONDS) return null;
  const points = parts
    .flatMap((part) =>
      pointsBetween(frames, part.onSeconds + ATTACK_SECONDS, part.offSeconds - RELEASE_SECONDS, target),
    )
    .filter((point) => Math.abs(point.cents) <= STRAY_CENTS);
  const line = fitLine(points.map((point) => ({ x: point.atSeconds, y: point.cents })));
  const middle = median(points.map((point) => point.cents));
  if (line === null || middle === null || points.length < LEAST_HOLD_FRAMES) return null;
  const held = (points.at(-1)?.atSeconds ?? 0) - (points[0]?.atSeconds ?? 0);
  return {
    lengthSeconds: seconds(length),
    distanceCents: cents(middle),
    driftCents: cents(line.slope * held),
    steadinessCents: cents(line.residualDeviation),
    breaks: parts.length - 1,
  };
}
