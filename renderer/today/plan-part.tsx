import { useEffect, useRef, useState } from "react";
import { LEAST_MINUTES, MOST_MINUTES } from "../../core/progress/plan/plan.ts";
import {
  doneInWords,
  isBegun,
  type KeptPlan,
  lineState,
  openLine,
  takenUp,
} from "../../core/progress/plan/plan-kept.ts";
import { lineName, type PlanLine, planInWords, plannedMinutes } from "../../core/progress/plan/plan-shape.ts";
import { minutesInWords } from "../../core/progress/plan/plan-words.ts";
import { NumberChoice } from "../ui/choice.tsx";
import { Key, useVerbs } from "../ui/use-verbs.tsx";
import { walkRows } from "../ui/walk-rows.ts";
import { useWriting } from "../ui/writing.ts";
import { LINE_WORDS, lineInWords } from "./plan-lines.ts";

export interface PlanPartProps {
  readonly kept: KeptPlan;
  /** One sentence on what the last key did not do; null for none. */
  readonly told: string | null;
  readonly onMinutes: (minutes: number) => void;
  readonly onStart: () => void;
  /** Skips a line, or takes that back. */
  readonly onSkip: (name: string) => void;
  readonly onSwap: (name: string) => void;
  readonly onLengthen: (name: string) => void;
  /** Makes the plan of the day anew. */
  readonly onAnew: () => void;
}

/** What to do now, line by line, and why that; one key starts it. */
export function PlanPart(props: PlanPartProps) {
  const { kept, told, onMinutes, onStart, onAnew } = props;
  const { plan } = kept;
  const next = openLine(takenUp(kept));
  const start = useRef<HTMLButtonElement>(null);
  useEffect(() => start.current?.focus(), []);
  const begun = isBegun(kept);
  return (
    <section className="plan" aria-label="Plan of the day">
      <div className="row plan-head">
        {next === null ? (
          <button ref={start} type="button" className="main" onClick={onAnew}>
            Plan more <Key verb="start" />
          </button>
        ) : (
          <button ref={start} type="button" className="main" onClick={onStart}>
            {begun ? `Go on with ${lineInWords(next, plan.lines)}` : "Start the plan"} <Key verb="start" />
          </button>
        )}
        <NumberChoice
          legend="Time today"
          unit="minutes"
          value={plan.minutes}
          low={LEAST_MINUTES}
          high={MOST_MINUTES}
          step={5}
          onChange={(minutes) => onMinutes(Math.round(minutes))}
        />
        <p className="soft">
          {begun ? doneInWords(kept) : `${planInWords(plan)}.`}
          {plannedMinutes(plan) < plan.minutes - 1 && " There is not more to play yet."}
        </p>
      </div>
      <PlanLines {...props} next={next} />
      <p className="soft" role="status">
        {told}
      </p>
    </section>
  );
}

/** The lines; the keys act on the one that has the focus, else on the next. */
function PlanLines(props: PlanPartProps & { readonly next: PlanLine | null }) {
  const { kept, next, onStart, onAnew, onSkip, onSwap, onLengthen } = props;
  const [at, setAt] = useState<string | null>(null);
  const { lines } = kept.plan;
  const chosen = lines.find((line) => lineName(line) === at) ?? next;
  const act = (onLine: (name: string) => void, may: (line: PlanLine) => boolean) =>
    chosen === null || !may(chosen) ? null : () => onLine(lineName(chosen));
  const isOpen = (line: PlanLine) => lineState(kept, lineName(line)).state !== "done";
  useVerbs({
    start: next === null ? onAnew : onStart,
    "skip line": act(onSkip, isOpen),
    "swap line": act(onSwap, (line) => isOpen(line) && line.kind !== "rest"),
    "lengthen line": act(onLengthen, isOpen),
  });
  return (
    <ol className="plan-lines" onKeyDown={walkRows}>
      {lines.map((line) => {
        const name = lineName(line);
        const isChosen = chosen !== null && lineName(chosen) === name;
        return (
          <Line
            key={name}
            {...props}
            line={line}
            isChosen={isChosen}
            onFocus={() => setAt(name)}
            onBlur={() => setAt(null)}
          />
        );
      })}
    </ol>
  );
}

interface LineProps extends PlanPartProps {
  readonly line: PlanLine;
  readonly next: PlanLine | null;
  readonly isChosen: boolean;
  readonly onFocus: () => void;
  readonly onBlur: () => void;
}

function Line({ kept, line, next, isChosen, onFocus, onBlur, ...props }: LineProps) {
  const { say } = useWriting();
  const name = lineName(line);
  const { state } = lineState(kept, name);
  const called = lineInWords(line, kept.plan.lines);
  return (
    <li
      className={["plan-line", state, line.kind === "rest" ? "rest" : "", isChosen ? "chosen" : ""].join(" ")}
      aria-current={line === next ? "step" : undefined}
      onFocus={onFocus}
      onBlur={onBlur}
    >
      <span className="plan-minutes">
        {line.minutes}
        <span className="only-read-aloud"> minutes</span>
        <span aria-hidden="true"> min</span>
      </span>
      <div>
        <p>
          <span className="plan-kind">{LINE_WORDS[line.kind]}</span>
          {state !== "open" && (
            <>
              {" "}
              <span className="plan-state">{state}</span>
            </>
          )}{" "}
          <span className="soft">{line.why}.</span>
        </p>
        {line.kind !== "rest" && (
          <ul>
            {line.parts.map((part) => (
              <li key={part.item}>
                <span className="plan-title">{say(part.title)}</span>{" "}
                <span className="soft">
                  {part.harp === "" ? "" : `${say(part.harp)}; `}
                  {say(part.why)}.
                </span>
              </li>
            ))}
          </ul>
        )}
      </div>
      {state !== "done" && (
        <div className="row plan-keys">
          <button type="button" className="open" onClick={() => props.onSkip(name)}>
            {state === "skipped" ? "Play" : "Skip"}
            <span className="only-read-aloud"> {called}</span> <LineKey verb="skip line" />
          </button>
          {line.kind !== "rest" && (
            <button type="button" onClick={() => props.onSwap(name)}>
              Swap<span className="only-read-aloud"> {called}</span> <LineKey verb="swap line" />
            </button>
          )}
          <button type="button" onClick={() => props.onLengthen(name)}>
            Longer
            <span className="only-read-aloud">
              : {called}, now {minutesInWords(line.minutes)}
            </span>{" "}
            <LineKey verb="lengthen line" />
          </button>
        </div>
      )}
    </li>
  );
}

/** Keeps its room on all lines, so that no button moves away under the pointer; seen on the line the keys act on. */
const LineKey = ({ verb }: { readonly verb: "skip line" | "swap line" | "lengthen line" }) => (
  <span className="plan-key">
    <Key verb={verb} />
  </span>
);
