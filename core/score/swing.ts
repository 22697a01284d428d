import type { Exercise, ExpectedNote } from "../exercise/exercise.ts";
import { onsetOf } from "../exercise/exercise.ts";
import type { Swing } from "./attempt.ts";
import { median, sampleDeviation } from "./statistics.ts";

/** Onsets of reeds are found to about this: what a single ratio may be off by follows from it. */
const ONSET_SECONDS = 0.006;
/** Fewer pairs say nothing about a habit. */
const LEAST_PAIRS = 4;
/** A difference this many times the uncertainty is one. */
const SURE = 2;
/** A ratio within this share of the one asked for is as asked: Friberg and Sundstrom's drummers vary as much. */
const AS_ASKED = 0.15;

/**
 * Long against short in the pairs that share a beat unevenly: onset to onset, over the pairs whose three onsets were all
 * answered in one stretch.
 *
 * @param onsets seconds on the take's clock by index of the expected note; absent where it was not answered
 * @param joined whether two expected notes were played on end
 * @returns null where the exercise is even
 */
export function measureSwing(
  exercise: Exercise,
  onsets: ReadonlyMap<number, number>,
  joined: (from: number, to: number) => boolean,
): Swing | null {
  const pairs = unevenPairs(exercise);
  const asked = pairs[0]?.ratio;
  if (asked === undefined) return null;
  const ratios: number[] = [];
  const errors: number[] = [];
  for (const { first } of pairs) {
    const [on, turn, end] = [first, first + 1, first + 2].map((index) => onsets.get(index));
    if (on === undefined || turn === undefined || end === undefined || !joined(first, first + 2)) continue;
    const long = turn - on;
    const short = end - turn;
    if (long <= 0 || short <= 0) continue;
    ratios.push(long / short);
    // [calc] of r = L / S, both off by sqrt 2 times an onset: r sqrt((e/L)^2 + (e/S)^2).
    errors.push((long / short) * Math.SQRT2 * ONSET_SECONDS * Math.hypot(1 / long, 1 / short));
  }
  const played = median(ratios);
  if (played === null || ratios.length < LEAST_PAIRS) {
    const reason = `${ratios.length === 0 ? "no" : "only"} ${ratios.length === 0 ? "" : `${ratios.length} `}pairs were played whole`;
    return { asked, played: null, uncertain: null, pairs: ratios.length, judged: null, reason };
  }
  const each = Math.max(sampleDeviation(ratios) ?? 0, median(errors) ?? 0);
  const uncertain = each / Math.sqrt(ratios.length);
  return {
    asked,
    played,
    uncertain,
    pairs: ratios.length,
    judged: judge(played, asked, uncertain),
    reason: null,
  };
}

function judge(played: number, asked: number, uncertain: number): NonNullable<Swing["judged"]> {
  const limit = Math.max(SURE * uncertain, AS_ASKED * asked);
  if (Math.abs(played - asked) <= limit) return "as asked";
  return played < asked ? "straighter" : "more uneven";
}

interface Pair {
  /** Index of the long note. */
  readonly first: number;
  /** Long to short, as the exercise sounds. */
  readonly ratio: number;
}

/** Two touching notes that fill a beat, or half of one, unevenly, and the note after them. */
function unevenPairs(exercise: Exercise): readonly Pair[] {
  const { rhythm, notes } = exercise;
  if (rhythm === undefined || rhythm.kind === "even") return [];
  const pairs: Pair[] = [];
  for (const [place, long] of notes.entries()) {
    const short = notes[place + 1];
    const after = notes[place + 2];
    if (short === undefined || after === undefined) continue;
    const touching = follows(long, short) && follows(short, after);
    const ratio =
      (onsetOf(exercise, short) - onsetOf(exercise, long)) /
      (onsetOf(exercise, after) - onsetOf(exercise, short));
    if (touching && startsUnit(long) && ratio > 1.02) pairs.push({ first: long.index, ratio });
  }
  return pairs;
}

const follows = (note: ExpectedNote, next: ExpectedNote) =>
  Math.abs(note.startBeats + note.lengthBeats - next.startBeats) < 1e-6;

/** A pair begins on a beat or half beat. */
const startsUnit = (note: ExpectedNote) =>
  Math.abs(2 * note.startBeats - Math.round(2 * note.startBeats)) < 1e-6;
