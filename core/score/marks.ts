import { type Exercise, type ExpectedNote, lengthOf, targetMidi } from "../exercise/exercise.ts";
import { actionsForNote, EVERYTHING } from "../instrument/reed-actions.ts";
import { tab } from "../instrument/tab.ts";
import type { HeardNote, Leak, Listening } from "../listen/listening.ts";
import { centsBetween, referencePitchCents } from "../pitch/equal-temperament.ts";
import { type Cents, type Midi, type Milliseconds, midi, milliseconds, seconds } from "../units.ts";
import type { Way } from "./attempt.ts";
import { fallOf, holdOf, scoopOf } from "./contour.ts";
import { diagnose, diagnoseBend, diagnoseSecondReed } from "./diagnosis.ts";
import { AT_A_HOLE, beginsAtHole, IN_A_HOLE, isInHole } from "./holes.ts";
import { type Intonation, type Mark, type Timing, type Tolerances, withinTolerance } from "./mark.ts";
import { reedOffset } from "./reed-pitch.ts";
import { secondReedOf } from "./second-reed.ts";
import type { Timed } from "./stretches.ts";

/** What every mark of a take is made from. */
export interface MarkContext {
  readonly exercise: Exercise;
  readonly listening: Listening;
  readonly tolerances: Tolerances;
  readonly latencyMs: Milliseconds;
  readonly way: Way;
  /** Why a note may have been played and not heard, or null. */
  readonly hidden: string | null;
}

/** What was heard for one expected note. */
export interface HeardAnswer {
  /** In the parts it was heard in, ornaments between them left out; at least one. Latency taken off. */
  readonly parts: readonly HeardNote[];
  /** What sounds along with it. */
  readonly leak: Leak | null;
  readonly timed: Timed;
  readonly lengthShare: number | null;
  /** Length of an ornament that leads into it: the beat may lie on either. */
  readonly leadMs: Milliseconds;
}

/** Pitch is not judged on a shorter sound (fact sheet, section 6: not under 60 to 70 ms). */
const LEAST_JUDGED_SECONDS = 0.07;

const unmeasured = {
  heardMidi: null,
  cents: null,
  reedCents: null,
  scoop: null,
  fall: null,
  hold: null,
  ms: null,
  msFrom: null,
  msUncertain: milliseconds(0),
  lengthShare: null,
  intonation: null,
  timing: null,
  heardAs: [],
  diagnosis: null,
  secondReed: null,
};

/**
 * The mark of a note nothing was heard for.
 *
 * @param expectedAtSeconds when it should have come, as the notes around it were played, on the recording's clock
 * @param tooShort          why it may have been played too short to be heard, or null
 */
export function unheardMark(
  context: MarkContext,
  expected: ExpectedNote,
  expectedAtSeconds: number,
  tooShort: string | null,
): Mark {
  const length = lengthOf(context.exercise, expected);
  const middle = expectedAtSeconds + length / 2;
  // A note whose time the recording does not cover was not missed by the player.
  const cutOff = middle > context.listening.durationSeconds;
  const inHole = isInHole(context.listening, expectedAtSeconds, length) ? IN_A_HOLE : null;
  const reason = cutOff ? "the recording ends before this note" : (inHole ?? context.hidden ?? tooShort);
  return {
    ...unmeasured,
    ...asked(expected),
    verdict: reason === null ? "missed" : "not measured",
    onSeconds: null,
    offSeconds: null,
    reason,
  };
}

const asked = ({ index, midi: expectedMidi, action, tab: tabOf }: ExpectedNote) => ({
  index,
  expectedMidi,
  action,
  tab: tabOf,
});

/** The mark of a note something was heard for. */
export function heardMark(context: MarkContext, expected: ExpectedNote, answer: HeardAnswer): Mark {
  const { exercise, tolerances, latencyMs } = context;
  const heard = longest(answer.parts);
  const first = answer.parts[0] ?? heard;
  const last = answer.parts.at(-1) ?? heard;
  const common = {
    ...unmeasured,
    ...asked(expected),
    ...timingOf(answer, tolerances),
    lengthShare: answer.lengthShare,
    secondReed: secondReedOf(exercise, expected.action, answer.leak),
    // Places in the take are places in the recording as it is: the latency goes back on.
    onSeconds: seconds(first.onSeconds + latencyMs / 1000),
    offSeconds: seconds(last.offSeconds + latencyMs / 1000),
    reason: beginsAtHole(context.listening, first.onSeconds + latencyMs / 1000) ? AT_A_HOLE : null,
  };
  if (heard.pitchMidi === null)
    return { ...common, verdict: "not measured", reason: heard.unreadable ?? "no steady pitch" };
  const reedCents = reedOffset(exercise, expected.action);
  const target = midi(targetMidi(exercise, expected) + (reedCents ?? 0) / 100);
  const offset = centsBetween(heard.pitchMidi, target);
  const heardMidi = nearestNote(exercise, heard.pitchMidi);
  if (!withinTolerance(offset, tolerances.rightNoteCents)) {
    const diagnosis = diagnose(exercise, expected, heard.pitchMidi, common.secondReed);
    return { ...common, verdict: "wrong", heardMidi, heardAs: actionsOf(exercise, heardMidi), diagnosis };
  }
  return {
    ...common,
    ...shapeOf(context, answer, target),
    ...intonationOf(expected, offset, heard, tolerances),
    verdict: "hit",
    heardMidi,
    cents: offset,
    reedCents,
    diagnosis:
      diagnoseBend(expected, offset, tolerances.offCents) ?? diagnoseSecondReed(expected, common.secondReed),
  };
}

/** Slides at the ends of a right note, and how it was held. */
function shapeOf({ listening, way, latencyMs }: MarkContext, { parts }: HeardAnswer, target: Midi) {
  const inTake = parts.map((part) => delayed(part, latencyMs));
  const [first, last] = [inTake[0], inTake.at(-1)];
  return {
    scoop: first === undefined ? null : scoopOf(listening.frames, first),
    fall: last === undefined ? null : fallOf(listening.frames, last),
    hold: way === "hold" ? holdOf(listening.frames, inTake, target) : null,
  };
}

/** A note moved by the latency of the sound path: frames are places in the recording as it is. */
function delayed(note: HeardNote, latencyMs: number): HeardNote {
  const delay = latencyMs / 1000;
  return {
    ...note,
    onSeconds: seconds(note.onSeconds + delay),
    offSeconds: seconds(note.offSeconds + delay),
  };
}

function longest(parts: readonly HeardNote[]): HeardNote {
  const length = (note: HeardNote) => (note.pitchMidi === null ? 0 : note.offSeconds - note.onSeconds);
  const [first, ...rest] = parts;
  if (first === undefined) throw new RangeError("an answer without a heard note");
  return rest.reduce((best, note) => (length(note) > length(best) ? note : best), first);
}

function intonationOf(expected: ExpectedNote, offset: Cents, heard: HeardNote, tolerances: Tolerances) {
  const short = heard.offSeconds - heard.onSeconds < LEAST_JUDGED_SECONDS;
  if (short) return { intonation: null, reason: "too short for its pitch to be judged" };
  return { intonation: judgeIntonation(offset, inTuneLimit(expected, tolerances), tolerances.offCents) };
}

/** Up to how many cents from its target a note is in tune. */
export function inTuneLimit({ action }: Pick<ExpectedNote, "action">, tolerances: Tolerances): Cents {
  return action.technique === "plain" ? tolerances.inTuneCents : tolerances.bendInTuneCents;
}

function judgeIntonation(offset: Cents, inTune: Cents, off: Cents): Intonation {
  if (withinTolerance(offset, inTune)) return "in tune";
  if (withinTolerance(offset, off)) return "close";
  return offset > 0 ? "sharp" : "flat";
}

/** An ornament leads into its note on the beat or before it, so the onset may lie anywhere in it. */
function timingOf({ timed, leadMs }: HeardAnswer, tolerances: Tolerances) {
  const { ms, from } = timed;
  return {
    ms,
    msFrom: from,
    msUncertain: leadMs,
    timing: ms === null ? null : judgeTiming(ms, tolerances.onBeatMs, leadMs),
  };
}

function judgeTiming(error: Milliseconds, onBeat: Milliseconds, lead: Milliseconds): Timing {
  if (error < 0) return withinTolerance(error, onBeat) ? "on the beat" : "early";
  return withinTolerance(Math.max(0, error - lead), onBeat) ? "on the beat" : "late";
}

/** The whole note nearest to a heard pitch, at the harp's own A4. */
export function nearestNote(exercise: Exercise, heard: Midi): Midi {
  return midi(Math.round(heard - referencePitchCents(exercise.harp.a4) / 100));
}

/** Tab of the reed actions of the harp in hand that give a note. */
export function actionsOf(exercise: Exercise, note: Midi): readonly string[] {
  return actionsForNote(exercise.harp, note, EVERYTHING).map((action) => tab(action));
}
