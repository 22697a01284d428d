import type { Attempt } from "./attempt.ts";

/** The three measures, one line each, every number with its unit. */
export function summaryInWords(attempt: Attempt): readonly string[] {
  return [notesInWords(attempt), intonationInWords(attempt), timingInWords(attempt)];
}

function notesInWords({ summary: { notes } }: Attempt): string {
  const judged = notes.expected - notes.notMeasured;
  const others = [
    count(notes.wrong, "wrong"),
    count(notes.missed, "missed"),
    count(notes.extra, "too many"),
    count(notes.notMeasured, "not measured"),
  ].filter((words) => words !== "");
  return [`Notes: ${notes.hit} of ${judged} hit`, ...others].join(", ");
}

function intonationInWords({ summary: { intonation } }: Attempt): string {
  if (intonation.biasCents === null) return "Intonation: not measured";
  const spread = intonation.spreadCents === null ? "" : `, spread ${intonation.spreadCents.toFixed(1)} cents`;
  return `Intonation: bias ${signed(intonation.biasCents)} cents${spread}, over ${intonation.measuredNotes} notes`;
}

function timingInWords({ summary: { timing }, start }: Attempt): string {
  if (timing.measuredNotes === 0) return "Timing: not measured";
  const parts = [
    timing.biasMs === null ? null : `bias ${signed(timing.biasMs)} ms`,
    timing.spreadMs === null ? null : `spread ${timing.spreadMs.toFixed(0)} ms`,
    timing.evennessMs === null ? null : `evenness ${timing.evennessMs.toFixed(0)} ms`,
    timing.tempoRatio === null
      ? null
      : `tempo ${(100 * timing.tempoRatio).toFixed(1)} % of the one asked for`,
  ].filter((part) => part !== null);
  const why = start.source === "found" ? "; the recording has no count-in, so no bias" : "";
  return `Timing: ${parts.join(", ")}, over ${timing.measuredNotes} notes${why}`;
}

const count = (value: number, what: string) => (value === 0 ? "" : `${value} ${what}`);

function signed(value: number): string {
  const text = value.toFixed(1);
  return value > 0 && text !== "0.0" ? `+${text}` : text.replace("-0.0", "0.0");
}
