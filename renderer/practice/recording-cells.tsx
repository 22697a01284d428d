import type { RecordingResult, Told } from "../../core/score/recording-results.ts";

export const RECORDING_HEADINGS = [
  "Recording",
  "Right",
  "Wrong",
  "Missed",
  "Too many",
  "Intonation (cents)",
  "Timing (ms)",
  "Cost most",
] as const;

interface RecordingCellsProps {
  readonly result: RecordingResult | null;
  /** Whether its turn may still come by itself. */
  readonly waiting: boolean;
}

/** What stands beside the name of a recording. */
export function RecordingCells({ result, waiting }: RecordingCellsProps) {
  if (result === null || result.kind === "not marked") {
    const words = result === null ? (waiting ? "waits for its turn" : "stopped before its turn") : null;
    return (
      <td colSpan={RECORDING_HEADINGS.length - 1}>
        {words !== null ? <span className="soft">{words}</span> : `Not marked: ${reasonOf(result)}.`}
      </td>
    );
  }
  const { told } = result;
  const { notes, intonation } = told.summary;
  return (
    <>
      <td className="number">
        {notes.hit} of {notes.expected - notes.notMeasured}
        {notes.notMeasured > 0 && <div className="soft">{notes.notMeasured} not measured</div>}
      </td>
      <td className="number">{notes.wrong}</td>
      <td className="number">{notes.missed}</td>
      <td className="number">{notes.extra}</td>
      <td className="number">{biasAndSpread(intonation.biasCents, intonation.spreadCents)}</td>
      <td className="number">{timingOf(told)}</td>
      <td>{told.advice[0]?.words ?? "nothing"}</td>
    </>
  );
}

const reasonOf = (result: RecordingResult | null) => (result?.kind === "not marked" ? result.reason : "");

/** Milliseconds from the beat; without a beat how uneven, and of notes that were held nothing. */
function timingOf({ way, summary: { timing } }: Told): string {
  if (way === "hold") return "not judged";
  if (way !== "own pace") return biasAndSpread(timing.biasMs, timing.spreadMs);
  return timing.evennessShare === null
    ? "not measured"
    : `uneven by ${(100 * timing.evennessShare).toFixed(0)} %`;
}

function biasAndSpread(bias: number | null, spread: number | null): string {
  const parts = [bias === null ? null : signed(bias), spread === null ? null : `± ${spread.toFixed(0)}`];
  return parts.filter((part) => part !== null).join(" ") || "not measured";
}

function signed(value: number): string {
  const rounded = Math.round(value);
  return rounded > 0 ? `+${rounded}` : String(rounded === 0 ? 0 : rounded);
}
