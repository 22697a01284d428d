import { useEffect, useRef } from "react";
import { doneInWords, type KeptPlan, openLine, withLineState } from "../../core/progress/plan/plan-kept.ts";
import { lineName, type PlanLine } from "../../core/progress/plan/plan-shape.ts";
import { Key, useVerbs } from "../ui/use-verbs.tsx";
import { useWriting } from "../ui/writing.ts";
import { LINE_WORDS, lineInWords } from "./plan-lines.ts";
import { clockInWords, takesInWords } from "./plan-strip.tsx";
import "./today.css";

interface PlanRestProps {
  readonly kept: KeptPlan;
  readonly line: PlanLine;
  readonly staying: boolean;
  readonly onStartOrStay: () => void;
  readonly onLeave: () => void;
}

/** A rest, counted down; it leads on by itself. */
export function PlanRest({ kept, line, staying, onStartOrStay, onLeave }: PlanRestProps) {
  const { say } = useWriting();
  const next = openLine(withLineState(kept, lineName(line), { state: "done" }));
  const main = useRef<HTMLButtonElement>(null);
  useEffect(() => main.current?.focus(), []);
  useVerbs({ start: onStartOrStay, leave: onLeave });
  return (
    <main className="plan-moment">
      <h1>{LINE_WORDS.rest}</h1>
      <p className="plan-clock" role="timer" aria-label="Left of the rest">
        {clockInWords(kept, line)}
      </p>
      <p className="plan-kind">{line.why}.</p>
      {next !== null && next.kind !== "rest" && (
        <p>
          Then: {lineInWords(next, kept.plan.lines)}, {say(next.parts.map(({ title }) => title).join("; "))}.
        </p>
      )}
      <p className="row">
        <button ref={main} type="button" className="main" onClick={onStartOrStay}>
          {staying ? "Go on" : "Rest on"} <Key verb="start" />
        </button>
        <span className="soft">
          {staying ? "The clock stands still." : "Goes on by itself."} The microphone is closed.
        </span>
      </p>
    </main>
  );
}

interface PlanStuckProps {
  readonly words: string;
  readonly seconds: number;
  readonly onGoOn: () => void;
  readonly onLeave: () => void;
}

/** Something of the plan cannot be played. */
export function PlanStuck({ words, seconds, onGoOn, onLeave }: PlanStuckProps) {
  const { say } = useWriting();
  const main = useRef<HTMLButtonElement>(null);
  useEffect(() => main.current?.focus(), []);
  useVerbs({ start: onGoOn, leave: onLeave });
  return (
    <main className="plan-moment">
      <p className="notice" role="alert">
        {say(words)}
      </p>
      <p className="row">
        <button ref={main} type="button" className="main" onClick={onGoOn}>
          Go on <Key verb="start" />
        </button>
        <span className="soft">Goes on by itself in {seconds} s.</span>
      </p>
    </main>
  );
}

/** Something of the plan is being opened. */
export function PlanOpening({ title, onLeave }: { readonly title: string; readonly onLeave: () => void }) {
  const { say } = useWriting();
  useVerbs({ leave: onLeave });
  return (
    <main className="plan-moment">
      <p role="status">Opening {say(title)} …</p>
      <p className="row">
        <progress aria-label="Opening" />
        <button type="button" onClick={onLeave}>
          Leave <Key verb="leave" />
        </button>
      </p>
    </main>
  );
}

/** The end of a plan: one sentence, and what was done. */
export function PlanOver({ kept, onLeave }: { readonly kept: KeptPlan; readonly onLeave: () => void }) {
  const { say } = useWriting();
  const main = useRef<HTMLButtonElement>(null);
  useEffect(() => main.current?.focus(), []);
  useVerbs({ start: onLeave, leave: onLeave });
  const played = kept.plan.lines.filter((line) => line.kind !== "rest");
  return (
    <main className="plan-moment">
      <h1>The plan is at its end</h1>
      <p className="one-sentence">{doneInWords(kept)}</p>
      <table className="plan-done">
        <caption className="only-read-aloud">What was done</caption>
        <thead>
          <tr>
            <th scope="col">Line</th>
            <th scope="col">What</th>
            <th scope="col">Takes</th>
          </tr>
        </thead>
        <tbody>
          {played.map((line) => (
            <tr key={lineName(line)}>
              <th scope="row">{lineInWords(line, kept.plan.lines)}</th>
              <td>{say(line.parts.map(({ title }) => title).join("; "))}</td>
              <td>{takesInWords(kept, line)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="row">
        <button ref={main} type="button" className="main" onClick={onLeave}>
          Back to Today <Key verb="start" />
        </button>
        <span className="soft">The microphone is closed.</span>
      </p>
    </main>
  );
}
