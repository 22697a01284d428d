import { asksForChords, type Exercise } from "../exercise/exercise.ts";
import type { HeardNote, Listening } from "../listen/listening.ts";
import { type Milliseconds, type Seconds, seconds } from "../units.ts";
import { advise } from "./advice.ts";
import { type Answered, answerExercise } from "./answers.ts";
import { ATTEMPT_SCHEMA, ATTEMPT_VERSION, type Attempt, type PlayedStretch, type Way } from "./attempt.ts";
import { Besides } from "./besides.ts";
import { chordExtras, markChords } from "./chord-marks.ts";
import { chordSounds } from "./chord-sounds.ts";
import { listFaults } from "./faults.ts";
import { whyHidden } from "./hidden.ts";
import { withoutTimesAtHoles, withoutTornNotes } from "./holes.ts";
import { type Tolerances, USUAL_TOLERANCES } from "./mark.ts";
import { markNotes } from "./mark-notes.ts";
import { median } from "./statistics.ts";
import { summarise } from "./summary.ts";

export interface ScoreSettings {
  /** Delay of the sound path, taken off every onset; 0 if not measured. */
  readonly latencyMs: Milliseconds;
  /** Where beat 0 lies in the take, if the recorder knows it; otherwise the count-in is assumed to begin the take. */
  readonly beatZeroSeconds: Seconds | null;
  readonly tolerances: Tolerances;
  /** "in time" where not said. */
  readonly way?: Way;
}

export const USUAL_SETTINGS: ScoreSettings = {
  latencyMs: 0 as Milliseconds,
  beatZeroSeconds: null,
  tolerances: USUAL_TOLERANCES,
};

/** Why nothing can be said of chords where only single notes were listened for. */
const NOT_LISTENED_FOR = "chords were not listened for";

/**
 * Marks a take against its exercise: one mark for each expected note, what was heard besides, and three separate
 * measures.
 *
 * Pure: the same listening and settings give the same attempt.
 */
export function scoreTake(
  exercise: Exercise,
  listening: Listening,
  settings: ScoreSettings = USUAL_SETTINGS,
): Attempt {
  const { tolerances, latencyMs, beatZeroSeconds, way = "in time" } = settings;
  const chords = asksForChords(exercise);
  const ear = chords ? { ...listening, notes: chordSounds(exercise, listening) } : listening;
  const heard = ear.notes.map((note) => withoutLatency(note, latencyMs));
  const { rightNoteCents } = tolerances;
  const answered = withoutTimesAtHoles(
    answerExercise(exercise, heard, { beatZeroSeconds, rightNoteCents, way }),
    listening,
    latencyMs / 1000,
  );
  const besides = new Besides(exercise, answered, latencyMs);
  const loose = withoutTornNotes(besides.extras(), listening);
  const extras = chords ? chordExtras(listening, loose) : loose;
  const deaf = chords && listening.chords === undefined ? NOT_LISTENED_FOR : null;
  const context = { exercise, listening: ear, tolerances, latencyMs, way, hidden: deaf ?? whyHidden(ear) };
  const noteMarks = markNotes(context, answered, besides, extras);
  const marks = chords ? markChords(exercise, listening, noteMarks) : noteMarks;
  const summary = summarise(exercise, answered, marks, extras, way);
  return {
    schema: ATTEMPT_SCHEMA,
    version: ATTEMPT_VERSION,
    title: exercise.title,
    way,
    take: {
      durationSeconds: listening.durationSeconds,
      sampleRateHz: listening.sampleRateHz,
      peakDbfs: listening.peakDbfs,
      clippedShare: listening.clippedShare,
    },
    start: answered.start,
    latencyMs,
    tolerances,
    summary,
    marks,
    extras,
    ornaments: besides.ornaments(),
    abandoned: besides.abandoned(),
    stretches: playedStretches(answered),
    faults: listFaults(exercise, marks, extras, tolerances),
    advice: advise(exercise, marks, extras, summary, tolerances),
  };
}

function withoutLatency(note: HeardNote, latencyMs: Milliseconds): HeardNote {
  const delay = latencyMs / 1000;
  return {
    ...note,
    onSeconds: seconds(note.onSeconds - delay),
    offSeconds: seconds(note.offSeconds - delay),
  };
}

function playedStretches({ stretches, timed, start }: Answered): readonly PlayedStretch[] {
  return stretches.flatMap(({ begins, answers }, place) => {
    const [first, last] = [answers[0], answers.at(-1)];
    if (first === undefined || last === undefined) return [];
    const zero = median(answers.map((answer) => answer.onSeconds - answer.writtenSeconds)) ?? 0;
    return [
      {
        begins,
        fromIndex: first.index,
        toIndex: last.index,
        beatZeroSeconds: place === 0 && begins === "start" ? start.beatZeroSeconds : seconds(zero),
        msFrom: timed.get(first.index)?.from ?? null,
      },
    ];
  });
}
