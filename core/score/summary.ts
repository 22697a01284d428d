import type { Exercise } from "../exercise/exercise.ts";
import { cents } from "../units.ts";
import type { Answered } from "./answers.ts";
import type {
  BiasAndSpread,
  ExtraNote,
  HoldSummary,
  IntonationSummary,
  NotesSummary,
  Summary,
  Way,
} from "./attempt.ts";
import type { Mark } from "./mark.ts";
import { mean, sampleDeviation } from "./statistics.ts";
import { summariseTiming } from "./timing-summary.ts";

/** The measures of an attempt, each in its own unit and never mixed. */
export function summarise(
  exercise: Exercise,
  answered: Answered,
  marks: readonly Mark[],
  extras: readonly ExtraNote[],
  way: Way,
): Summary {
  return {
    notes: summariseNotes(marks, extras.length),
    intonation: summariseIntonation(marks),
    timing: summariseTiming(exercise, answered, marks),
    hold: way === "hold" ? summariseHold(marks) : null,
  };
}

function summariseNotes(marks: readonly Mark[], extra: number): NotesSummary {
  const count = (verdict: Mark["verdict"]) => marks.filter((mark) => mark.verdict === verdict).length;
  const notMeasured = count("not measured");
  const judged = marks.length - notMeasured;
  const hit = count("hit");
  return {
    expected: marks.length,
    hit,
    wrong: count("wrong"),
    missed: count("missed"),
    notMeasured,
    extra,
    hitShare: judged === 0 ? null : hit / judged,
  };
}

/** Notes too short for their pitch to be judged are left out. */
function summariseIntonation(marks: readonly Mark[]): IntonationSummary {
  const judged = marks.filter((mark) => mark.intonation !== null);
  return {
    ...biasAndSpread(judged),
    bends: biasAndSpread(judged.filter((mark) => mark.action.technique !== "plain")),
    reedsTakenOff: judged.filter((mark) => mark.reedCents !== null).length,
  };
}

function biasAndSpread(marks: readonly Mark[]): BiasAndSpread {
  const offsets = marks.flatMap((mark) => (mark.cents === null ? [] : [mark.cents]));
  const bias = mean(offsets);
  const spread = sampleDeviation(offsets);
  return {
    measuredNotes: offsets.length,
    biasCents: bias === null ? null : cents(bias),
    spreadCents: spread === null ? null : cents(spread),
  };
}

/** Distance keeps its sign; drift and unsteadiness are told by their size, for up and down would cancel. */
function summariseHold(marks: readonly Mark[]): HoldSummary {
  const holds = marks.flatMap((mark) => (mark.hold === null ? [] : [mark.hold]));
  const meanOf = (values: readonly number[]) => {
    const middle = mean(values);
    return middle === null ? null : cents(middle);
  };
  return {
    measuredNotes: holds.length,
    distanceCents: meanOf(holds.map((hold) => hold.distanceCents)),
    driftCents: meanOf(holds.map((hold) => Math.abs(hold.driftCents))),
    steadinessCents: meanOf(holds.map((hold) => hold.steadinessCents)),
  };
}
