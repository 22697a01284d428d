import { cents, milliseconds } from "../units.ts";
import type {
  ExtraNote,
  IntonationSummary,
  Mark,
  NotesSummary,
  Summary,
  TakeStart,
  TimingSummary,
} from "./attempt.ts";
import { fitLine, mean, sampleDeviation } from "./statistics.ts";

/** The three measures of an attempt, each in its own unit and never mixed. */
export function summarise(
  marks: readonly Mark[],
  extras: readonly ExtraNote[],
  start: TakeStart,
  onsetMsOf: (mark: Mark) => number,
): Summary {
  return {
    notes: summariseNotes(marks, extras.length),
    intonation: summariseIntonation(marks),
    timing: summariseTiming(marks, start, onsetMsOf),
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

function summariseIntonation(marks: readonly Mark[]): IntonationSummary {
  const offsets = marks.flatMap((mark) => (mark.cents === null ? [] : [mark.cents]));
  const bias = mean(offsets);
  const spread = sampleDeviation(offsets);
  return {
    measuredNotes: offsets.length,
    biasCents: bias === null ? null : cents(bias),
    spreadCents: spread === null ? null : cents(spread),
  };
}

/**
 * Bias and spread of the onsets, and the evenness left when a steady rush or drag is taken off: a straight line of
 * onset error over written time, whose slope is the tempo played against the tempo asked for.
 */
function summariseTiming(
  marks: readonly Mark[],
  start: TakeStart,
  onsetMsOf: (mark: Mark) => number,
): TimingSummary {
  const points = marks.flatMap((mark) =>
    mark.ms === null ? [] : [{ x: onsetMsOf(mark), y: mark.ms as number }],
  );
  const errors = points.map((point) => point.y);
  const bias = start.source === "found" ? null : mean(errors);
  const spread = sampleDeviation(errors);
  const line = fitLine(points);
  return {
    measuredNotes: points.length,
    biasMs: bias === null ? null : milliseconds(bias),
    spreadMs: spread === null ? null : milliseconds(spread),
    evennessMs: line === null ? null : milliseconds(line.residualDeviation),
    tempoRatio: line === null ? null : 1 / (1 + line.slope),
  };
}
