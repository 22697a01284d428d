import {
  countInSeconds,
  type Exercise,
  type ExpectedNote,
  lengthOf,
  onsetOf,
  targetMidi,
} from "../exercise/exercise.ts";
import { beatsToSeconds } from "../exercise/tempo.ts";
import { actionsForNote } from "../instrument/reed-actions.ts";
import { tab } from "../instrument/tab.ts";
import type { HeardNote, Listening } from "../listen/listening.ts";
import { centsBetween, referencePitchCents } from "../pitch/equal-temperament.ts";
import {
  type Beats,
  type Cents,
  type Midi,
  type Milliseconds,
  midi,
  milliseconds,
  type Seconds,
  seconds,
} from "../units.ts";
import { align, type Pair, type Written } from "./align.ts";
import {
  ATTEMPT_SCHEMA,
  ATTEMPT_VERSION,
  type Attempt,
  type ExtraNote,
  type Intonation,
  type Mark,
  type TakeStart,
  type Timing,
  type Tolerances,
  USUAL_TOLERANCES,
} from "./attempt.ts";
import { listFaults } from "./faults.ts";
import { summarise } from "./summary.ts";
import { type FoundStart, findTakeStart } from "./take-start.ts";

export interface ScoreSettings {
  /** Delay of the sound path, taken off every onset; 0 if not measured. */
  readonly latencyMs: Milliseconds;
  /** Where beat 0 lies in the take, if the recorder knows it; otherwise the count-in is assumed to begin the take. */
  readonly beatZeroSeconds: Seconds | null;
  readonly tolerances: Tolerances;
}

export const USUAL_SETTINGS: ScoreSettings = {
  latencyMs: 0 as Milliseconds,
  beatZeroSeconds: null,
  tolerances: USUAL_TOLERANCES,
};

/**
 * Marks a take against its exercise: one mark for each expected note, the notes too many, and three separate measures.
 *
 * Pure: the same listening and settings give the same attempt.
 */
export function scoreTake(
  exercise: Exercise,
  listening: Listening,
  settings: ScoreSettings = USUAL_SETTINGS,
): Attempt {
  const { tolerances } = settings;
  const heard = listening.notes.filter(isNote).map((note) => withoutLatency(note, settings.latencyMs));
  const { start, playedFromSeconds } = startOf(exercise, heard, settings);
  const written = exercise.notes.map((note) => writtenAt(exercise, note, playedFromSeconds));
  const played = heard.map((note) => ({ onSeconds: note.onSeconds, midi: note.pitchMidi }));
  const pairs = align(written, played, tolerances.rightNoteCents);
  const context: Context = {
    exercise,
    listening,
    heard,
    start,
    playedFromSeconds,
    tolerances,
    latencyMs: settings.latencyMs,
  };
  const marks = pairs.flatMap((pair) => markOf(context, pair));
  const extras = findExtras(context, pairs);
  return {
    schema: ATTEMPT_SCHEMA,
    version: ATTEMPT_VERSION,
    title: exercise.title,
    take: {
      durationSeconds: listening.durationSeconds,
      sampleRateHz: listening.sampleRateHz,
      peakDbfs: listening.peakDbfs,
      clippedShare: listening.clippedShare,
    },
    start,
    latencyMs: settings.latencyMs,
    tolerances,
    summary: summarise(marks, extras, start, (mark) => 1000 * writtenOnset(exercise, mark.index)),
    marks,
    extras,
    faults: listFaults(marks, extras, tolerances),
  };
}

interface Context {
  readonly exercise: Exercise;
  readonly listening: Listening;
  readonly heard: readonly HeardNote[];
  readonly start: TakeStart;
  readonly playedFromSeconds: Seconds;
  readonly tolerances: Tolerances;
  readonly latencyMs: Milliseconds;
}

/** Ornaments last 25 to 60 ms; a shorter sound without a pitch is a click, a knock or the beat from the loudspeaker. */
const LEAST_UNREADABLE_SECONDS = 0.06;

function isNote(note: HeardNote): boolean {
  return note.unreadable === null || note.offSeconds - note.onSeconds >= LEAST_UNREADABLE_SECONDS;
}

function withoutLatency(note: HeardNote, latencyMs: Milliseconds): HeardNote {
  const delay = latencyMs / 1000;
  return {
    ...note,
    onSeconds: seconds(note.onSeconds - delay),
    offSeconds: seconds(note.offSeconds - delay),
  };
}

function startOf(exercise: Exercise, heard: readonly HeardNote[], settings: ScoreSettings): FoundStart {
  return findTakeStart(
    exercise.notes.map((note) => writtenAt(exercise, note, seconds(0))),
    heard.map((note) => ({ onSeconds: note.onSeconds, midi: note.pitchMidi })),
    {
      beatZeroSeconds: settings.beatZeroSeconds ?? countInSeconds(exercise),
      known: settings.beatZeroSeconds !== null,
    },
    beatsToSeconds(1 as Beats, exercise.tempo),
    settings.tolerances.rightNoteCents,
  );
}

function writtenAt(exercise: Exercise, note: ExpectedNote, beatZero: Seconds): Written {
  return {
    onSeconds: beatZero + onsetOf(exercise, note),
    lengthSeconds: lengthOf(exercise, note),
    midi: targetMidi(exercise, note),
  };
}

function writtenOnset(exercise: Exercise, index: number): number {
  const note = exercise.notes[index];
  return note === undefined ? 0 : onsetOf(exercise, note);
}

/** The mark for one pair; none for a note too many. */
function markOf(context: Context, pair: Pair): readonly Mark[] {
  if (pair.written === null) return [];
  const expected = context.exercise.notes[pair.written];
  if (expected === undefined)
    throw new RangeError(`alignment names note ${pair.written}, which is not there`);
  const heard = pair.played === null ? undefined : context.heard[pair.played];
  return [heard === undefined ? unheardMark(context, expected) : heardMark(context, expected, heard)];
}

const unmeasured = { heardMidi: null, cents: null, ms: null, intonation: null, timing: null, heardAs: [] };

function unheardMark(context: Context, expected: ExpectedNote): Mark {
  const on = context.playedFromSeconds + onsetOf(context.exercise, expected) + context.latencyMs / 1000;
  // A note whose time the recording does not cover was not missed by the player.
  const cutOff = on + lengthOf(context.exercise, expected) / 2 > context.listening.durationSeconds;
  return {
    ...unmeasured,
    ...asked(expected),
    verdict: cutOff ? "not measured" : "missed",
    onSeconds: null,
    offSeconds: null,
    reason: cutOff ? "the recording ends before this note" : null,
  };
}

function asked(expected: ExpectedNote) {
  return { index: expected.index, expectedMidi: expected.midi, action: expected.action, tab: expected.tab };
}

function heardMark(context: Context, expected: ExpectedNote, heard: HeardNote): Mark {
  const { exercise, tolerances } = context;
  const beat = context.start.beatZeroSeconds + onsetOf(exercise, expected);
  const ms = milliseconds(1000 * (heard.onSeconds - beat));
  const common = {
    ...asked(expected),
    ms,
    timing: judgeTiming(ms, tolerances),
    // Places in the take are places in the recording as it is: the latency goes back on.
    onSeconds: seconds(heard.onSeconds + context.latencyMs / 1000),
    offSeconds: seconds(heard.offSeconds + context.latencyMs / 1000),
  };
  if (heard.pitchMidi === null) {
    const reason = heard.unreadable ?? "no steady pitch";
    return {
      ...common,
      verdict: "not measured",
      heardMidi: null,
      cents: null,
      intonation: null,
      heardAs: [],
      reason,
    };
  }
  const offset = centsBetween(heard.pitchMidi, targetMidi(exercise, expected));
  const heardMidi = nearestNote(exercise, heard.pitchMidi);
  if (Math.abs(offset) > tolerances.rightNoteCents) {
    const heardAs = actionsOf(exercise, heardMidi);
    return { ...common, verdict: "wrong", heardMidi, cents: null, intonation: null, heardAs, reason: null };
  }
  const intonation = judgeIntonation(offset, tolerances);
  return { ...common, verdict: "hit", heardMidi, cents: offset, intonation, heardAs: [], reason: null };
}

function findExtras(context: Context, pairs: readonly Pair[]): readonly ExtraNote[] {
  const extras: ExtraNote[] = [];
  let afterIndex = -1;
  for (const pair of pairs) {
    if (pair.written !== null) afterIndex = pair.written;
    const heard = pair.played === null ? undefined : context.heard[pair.played];
    // A sound whose pitch cannot be read is no ground for accusing anyone of a note too many.
    if (pair.written !== null || heard === undefined || heard.pitchMidi === null) continue;
    const heardMidi = nearestNote(context.exercise, heard.pitchMidi);
    extras.push({
      verdict: "extra",
      afterIndex,
      heardMidi,
      heardAs: actionsOf(context.exercise, heardMidi),
      onSeconds: seconds(heard.onSeconds + context.latencyMs / 1000),
      offSeconds: seconds(heard.offSeconds + context.latencyMs / 1000),
    });
  }
  return extras;
}

/** The whole note nearest to a heard pitch, at the harp's own A4. */
function nearestNote(exercise: Exercise, heard: Midi): Midi {
  return midi(Math.round(heard - referencePitchCents(exercise.harp.a4) / 100));
}

/** Tab of the reed actions of the harp in hand that give a note. */
function actionsOf(exercise: Exercise, note: Midi): readonly string[] {
  return actionsForNote(exercise.harp, note, { bends: true, overbends: true }).map((action) => tab(action));
}

function judgeIntonation(offset: Cents, tolerances: Tolerances): Intonation {
  const distance = Math.abs(offset);
  if (distance <= tolerances.inTuneCents) return "in tune";
  if (distance <= tolerances.offCents) return "close";
  return offset > 0 ? "sharp" : "flat";
}

function judgeTiming(error: Milliseconds, tolerances: Tolerances): Timing {
  if (Math.abs(error) <= tolerances.onBeatMs) return "on the beat";
  return error > 0 ? "late" : "early";
}
