import type { Harp } from "../../core/instrument/harp.ts";
import { type Position, positionHomeName, positionName } from "../../core/instrument/positions.ts";
import type { FoundDegree, HomeScale, ScaleReport } from "../../core/instrument/scale-report.ts";
import type { ModeName } from "../../core/pitch/modes.ts";
import { noteName } from "../../core/pitch/note-names.ts";

/**
 * What a harp gives in a position and mode, in one sentence: the longest plain run, then the notes within the reeds' range
 * that are not plain, each with what it takes.
 */
export function givesInWords(
  harp: Harp,
  position: Position,
  mode: ModeName,
  scale: HomeScale,
  report: ScaleReport,
): string {
  const where = `${positionName(position)} position, ${positionHomeName(harp, position)} ${mode}`;
  return `${where}: ${runInWords(report, scale)}; ${lacksInWords(report)}.`;
}

function runInWords({ longestPlainRun: run }: ScaleReport, scale: HomeScale): string {
  if (run === null) return "no plain note of it";
  if (run.notes === 1) return `plain notes only one by one, such as ${noteName(run.low, scale.spelling)}`;
  const ends = `${noteName(run.low, scale.spelling)} to ${noteName(run.high, scale.spelling)}`;
  return `longest plain run ${run.notes} notes, ${ends}`;
}

function lacksInWords(report: ScaleReport): string {
  const found = report.octaves.flat();
  const bent = found.filter((one) => one.means === "bend");
  const overblown = found.filter((one) => one.means === "overblow");
  const missing = found.filter((one) => one.means === "missing");
  const parts = [
    listed(bent, "by bend"),
    listed(overblown, "by overblow"),
    missing.length === 0 ? "nothing missing" : listed(missing, "missing"),
  ];
  return parts.filter((part) => part !== null).join("; ");
}

/** "missing A3 (2), C#4 (4)"; null for none. */
function listed(notes: readonly FoundDegree[], words: string): string | null {
  if (notes.length === 0) return null;
  return `${words} ${notes.map((one) => `${one.noteName} (${one.degree})`).join(", ")}`;
}
