import { type Attempt, hasBeat } from "./attempt.ts";

/** The measures, one line each, every number with its unit; then what was begun again, and what to practise. */
export function summaryInWords(attempt: Attempt): readonly string[] {
  return [
    notesInWords(attempt),
    intonationInWords(attempt),
    timingInWords(attempt),
    swingInWords(attempt),
    holdInWords(attempt),
    besidesInWords(attempt),
    ...attempt.advice.map(({ words, drillWords }) =>
      drillWords === null ? `Cost most: ${words}` : `Cost most: ${words}; drill: ${drillWords}`,
    ),
  ].filter((line) => line !== null);
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
  const { bends, reedsTakenOff } = intonation;
  const bent =
    bends === null || bends.biasCents === null
      ? ""
      : `; ${bends.measuredNotes} bent, bias ${signed(bends.biasCents)} cents`;
  const own = reedsTakenOff === 0 ? "" : "; the reeds' own offsets taken off";
  return `Intonation: bias ${signed(intonation.biasCents)} cents${spread}, over ${intonation.measuredNotes} notes${bent}${own}`;
}

function timingInWords({ summary: { timing }, start, way }: Attempt): string {
  if (way === "hold") return "Timing: not judged, notes were held";
  if (timing.measuredNotes === 0) return "Timing: not measured";
  const parts = [
    timing.biasMs === null ? null : `bias ${signed(timing.biasMs)} ms`,
    timing.spreadMs === null ? null : `spread ${timing.spreadMs.toFixed(0)} ms`,
    timing.evennessMs === null ? null : `evenness ${timing.evennessMs.toFixed(0)} ms`,
    timing.tempoRatio === null
      ? null
      : `tempo ${(100 * timing.tempoRatio).toFixed(1)} % of the one asked for`,
  ].filter((part) => part !== null);
  const why = hasBeat(way) && start.source === "found" ? "; the recording has no count-in, so no bias" : "";
  return `Timing: ${parts.join(", ")}, over ${timing.measuredNotes} notes${why}`;
}

function swingInWords({ summary: { timing } }: Attempt): string | null {
  const { swing } = timing;
  if (swing === null) return null;
  if (swing.played === null) return `Swing: not measured, ${swing.reason}`;
  const within = swing.uncertain === null ? "" : ` ± ${swing.uncertain.toFixed(2)}`;
  return `Swing: ${swing.played.toFixed(2)}:1${within} where ${swing.asked.toFixed(2)}:1 was asked for, over ${swing.pairs} pairs`;
}

function holdInWords({ summary: { hold } }: Attempt): string | null {
  if (hold === null) return null;
  if (hold.distanceCents === null || hold.driftCents === null || hold.steadinessCents === null)
    return "Held: no note long enough";
  return `Held: ${signed(hold.distanceCents)} cents from the target, drift ${hold.driftCents.toFixed(1)}, unsteady by ${hold.steadinessCents.toFixed(1)} cents, over ${hold.measuredNotes} notes`;
}

function besidesInWords({ abandoned, ornaments }: Attempt): string | null {
  const parts = [count(abandoned.length, "begun again"), count(ornaments.length, "ornaments")];
  const told = parts.filter((part) => part !== "");
  return told.length === 0 ? null : `Besides: ${told.join(", ")}`;
}

const count = (value: number, what: string) => (value === 0 ? "" : `${value} ${what}`);

function signed(value: number): string {
  const text = value.toFixed(1);
  return value > 0 && text !== "0.0" ? `+${text}` : text.replace("-0.0", "0.0");
}
