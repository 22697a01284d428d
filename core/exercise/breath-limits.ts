import type { Tempo } from "../tune/tempo.ts";
import { LONGEST_BREATH_SECONDS, LONGEST_ROUND_SECONDS } from "./caution.ts";
import type { ExerciseKind, ExpectedNote } from "./exercise.ts";

type Timed = Pick<ExpectedNote, "startBeats" | "lengthBeats" | "action">;

/** Something a drill asks of the breath, that may not last longer than so many seconds at any tempo. */
interface BreathLimit {
  readonly beats: number;
  readonly mostSeconds: number;
  /** What would last too long, and against which limit. */
  readonly fault: (seconds: string) => string;
  readonly remedy: string;
}

const oneBreath =
  (what: string): BreathLimit["fault"] =>
  (seconds) =>
    `${what} would have to last ${seconds} s, more than the ${LONGEST_BREATH_SECONDS} s a drill asks for`;
const noRest =
  (what: string): BreathLimit["fault"] =>
  (seconds) =>
    `${what} would last ${seconds} s; hard breathing needs a rest after ${LONGEST_ROUND_SECONDS} s`;

/** What the notes of each kind between two rests are, and how long they may last; other kinds let one breathe anywhere. */
const BETWEEN_RESTS: Readonly<Partial<Record<ExerciseKind, Omit<BreathLimit, "beats">>>> = {
  "one-breath": {
    mostSeconds: LONGEST_BREATH_SECONDS,
    fault: oneBreath("one breath"),
    remedy: "take a faster tempo or more notes to the beat",
  },
  "breath-pair": {
    mostSeconds: LONGEST_ROUND_SECONDS,
    fault: noRest("a round"),
    remedy: "take fewer beats or a faster tempo",
  },
  "hole-jumps": {
    mostSeconds: LONGEST_ROUND_SECONDS,
    fault: noRest("a pass"),
    remedy: "take a faster tempo or more notes to the beat",
  },
  "long-tones": {
    mostSeconds: LONGEST_ROUND_SECONDS,
    fault: noRest("tones without a rest between them"),
    remedy: "put rests between them or take a faster tempo",
  },
};

/** Chords of one breath are let go between strokes, but never long enough to take another. */
const ONE_WAY: Omit<BreathLimit, "beats"> = {
  mostSeconds: LONGEST_BREATH_SECONDS,
  fault: oneBreath("chords on one breath"),
  remedy: "take a chord of the other breath between them or a faster tempo",
};
/** A rest as long is enough to breathe in, beats. */
const BREATHING_REST_BEATS = 1;

const HELD: Omit<BreathLimit, "beats"> = {
  mostSeconds: LONGEST_BREATH_SECONDS,
  fault: oneBreath("a note on one breath"),
  remedy: "take shorter notes or a faster tempo",
};

function breathLimits(kind: ExerciseKind, notes: readonly Timed[]): readonly BreathLimit[] {
  const held: BreathLimit = { ...HELD, beats: longestNote(notes) };
  if (kind === "backing") return [{ ...ONE_WAY, beats: longestOneWay(notes) }, held];
  const between = BETWEEN_RESTS[kind];
  return between === undefined ? [held] : [{ ...between, beats: longestWithoutRest(notes) }, held];
}

const longestNote = (notes: readonly Timed[]): number =>
  notes.reduce((longest, note) => Math.max(longest, note.lengthBeats), 0);

/** Beats of the longest row of notes without a gap. */
function longestWithoutRest(notes: readonly Timed[]): number {
  let [longest, from, end] = [0, 0, 0];
  for (const note of notes) {
    if (note.startBeats > end + 1e-6) from = note.startBeats;
    end = note.startBeats + note.lengthBeats;
    longest = Math.max(longest, end - from);
  }
  return longest;
}

/** Beats of the longest row of notes on one breath without a rest to breathe in. */
function longestOneWay(notes: readonly Timed[]): number {
  let [longest, from, end] = [0, 0, Number.NEGATIVE_INFINITY];
  let breath: string | null = null;
  for (const note of notes) {
    const rested = note.startBeats - end >= BREATHING_REST_BEATS - 1e-6;
    if (rested || note.action.breath !== breath) from = note.startBeats;
    breath = note.action.breath;
    end = note.startBeats + note.lengthBeats;
    longest = Math.max(longest, end - from);
  }
  return longest;
}

/** A drill's breath at a tempo: what is wrong, and what to do about it. */
export interface BreathFault {
  /** "one breath would have to last 18.2 s, more than the 15 s a drill asks for". */
  readonly fault: string;
  readonly remedy: string;
}

/**
 * What of a drill would be held too long without a breath or a rest, or null if nothing.
 *
 * @param notes in order, at least one
 */
export function tooLongABreath(
  kind: ExerciseKind,
  notes: readonly Timed[],
  tempo: Pick<Tempo, "bpm">,
): BreathFault | null {
  for (const { beats, mostSeconds, fault, remedy } of breathLimits(kind, notes)) {
    const lasts = (60 * beats) / tempo.bpm;
    // Rounded up: what is too long by little is not called the limit itself.
    if (lasts > mostSeconds + 1e-9)
      return { fault: fault(String(Math.ceil(10 * lasts - 1e-6) / 10)), remedy };
  }
  return null;
}

/** The slowest tempo, in whole beats a minute, at which nothing of a drill is held too long. */
export function slowestByBreath(kind: ExerciseKind, notes: readonly Timed[]): number {
  const each = breathLimits(kind, notes).map(({ beats, mostSeconds }) => (60 * beats) / mostSeconds);
  return Math.ceil(Math.max(...each) - 1e-9);
}
