import { type KeptPlan, leftSeconds, lineState } from "../../core/progress/plan/plan-kept.ts";
import { lineName, type PlanLine } from "../../core/progress/plan/plan-shape.ts";
import { Key, useVerbs } from "../ui/use-verbs.tsx";
import { lineInWords } from "./plan-lines.ts";
import "./plan-strip.css";

export interface PlanStripProps {
  readonly kept: KeptPlan;
  readonly line: PlanLine;
  /** Seconds until the first take begins by itself; null where none does. */
  readonly beginsInSeconds: number | null;
  /** What the last key did not do; null for none. */
  readonly told: string | null;
  /** Whether the line can be changed just now: not in the middle of a take. */
  readonly isFree: boolean;
  readonly onSkip: () => void;
  readonly onSwap: () => void;
  readonly onLengthen: () => void;
}

/** Where the plan is, small above the sheet, with what can be done about its line. */
export function PlanStrip(props: PlanStripProps) {
  const { kept, line, beginsInSeconds, told, isFree, onSkip, onSwap, onLengthen } = props;
  const played = kept.plan.lines.filter(({ kind }) => kind !== "rest");
  const isRest = line.kind === "rest";
  const swap = isFree && !isRest ? onSwap : null;
  useVerbs({
    "skip line": isFree ? onSkip : null,
    "swap line": swap,
    "lengthen line": onLengthen,
  });
  return (
    <section className="plan-strip row" aria-label="Plan of the day">
      <span>
        {isRest
          ? `After line ${playedBefore(kept.plan.lines, line)} of ${played.length}`
          : `Line ${placeOf(played, line)} of ${played.length}: ${lineInWords(line, kept.plan.lines)}`}
        , {leftInWords(kept, line)}
      </span>
      {beginsInSeconds !== null && (
        <span role="status">
          Begins in {beginsInSeconds} s; <Key verb="start" /> to begin now.
        </span>
      )}
      {told !== null && <span role="status">{told}</span>}
      <span className="row plan-strip-keys">
        <button type="button" disabled={!isFree} onClick={onSkip}>
          Skip <Key verb="skip line" />
        </button>
        {!isRest && (
          <button type="button" disabled={swap === null} onClick={onSwap}>
            Swap <Key verb="swap line" />
          </button>
        )}
        <button type="button" onClick={onLengthen}>
          Longer <Key verb="lengthen line" />
        </button>
      </span>
    </section>
  );
}

const placeOf = (lines: readonly PlanLine[], line: PlanLine) =>
  1 + lines.findIndex((one) => lineName(one) === lineName(line));

/** So many lines are played before a rest. */
const playedBefore = (lines: readonly PlanLine[], rest: PlanLine) =>
  lines
    .slice(
      0,
      lines.findIndex((one) => lineName(one) === lineName(rest)),
    )
    .filter(({ kind }) => kind !== "rest").length;

/** "4 min left", "50 s left", "time is up": rounded as one would say it. */
export function leftInWords(kept: KeptPlan, line: PlanLine): string {
  const seconds = leftSeconds(kept, line);
  if (seconds <= 0) return "its time is up";
  return seconds < 60 ? `${10 * Math.ceil(seconds / 10)} s left` : `${Math.round(seconds / 60)} min left`;
}

/** "2:05". */
export function clockInWords(kept: KeptPlan, line: PlanLine): string {
  const seconds = Math.ceil(leftSeconds(kept, line));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

/** How often something was played on a line: "3 takes". */
export function takesInWords(kept: KeptPlan, line: PlanLine): string {
  const { takes } = lineState(kept, lineName(line));
  return takes === 0 ? "not played" : `${takes} ${takes === 1 ? "take" : "takes"}`;
}
