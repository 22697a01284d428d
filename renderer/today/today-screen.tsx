import type { ReactNode } from "react";
import type { PracticeDay } from "../../core/progress/practice-day.ts";
import type { DueItem } from "../../core/progress/revisit/revisit-due.ts";
import type { HistoryLine } from "../store/history-store.ts";
import { useVerbs } from "../ui/use-verbs.tsx";
import { walkRows } from "../ui/walk-rows.ts";
import { useWriting } from "../ui/writing.ts";
import { type DueChange, DuePart } from "./due-part.tsx";
import { lastTime } from "./go-on.ts";
import { PlanPart, type PlanPartProps } from "./plan-part.tsx";
import "./today.css";

/** The plan of the day as far as it is known. */
export type PlanView =
  | { readonly kind: "reading"; readonly onStop: () => void }
  | { readonly kind: "trouble"; readonly words: string; readonly onAgain: () => void }
  | {
      readonly kind: "plan";
      readonly plan: PlanPartProps;
      readonly day: PracticeDay;
      readonly due: readonly DueItem[];
      readonly onDue: (item: string, change: DueChange) => void;
    };

interface TodayScreenProps {
  /** Null while the first steps stand there instead. */
  readonly plan: PlanView | null;
  /** What was practised last, the latest first; null while it is being read. */
  readonly recent: readonly HistoryLine[] | null;
  /** Why it cannot be read, as a sentence; null while it can. */
  readonly trouble: string | null;
  /** Opens the exercise of an attempt again. */
  readonly onGoOn: (id: string) => void;
  readonly onDrills: () => void;
  readonly onTunes: () => void;
  /** What stands there for someone who is new. */
  readonly children?: ReactNode;
}

/** What do I do now, and why that? */
export function TodayScreen(props: TodayScreenProps) {
  const { plan, recent, trouble, onGoOn, onDrills, onTunes, children } = props;
  return (
    <main className="today">
      <h1>Today</h1>
      {children}
      {trouble !== null && (
        <p className="notice" role="alert">
          {trouble}
        </p>
      )}
      {plan !== null && <PlanOfToday view={plan} />}
      {recent === null && trouble === null && <p role="status">Reading what was practised …</p>}
      {recent !== null && recent.length === 0 && (
        <p>Nothing was practised yet. What you play will stand here, to go on with.</p>
      )}
      {recent !== null && recent.length > 0 && <GoOn recent={recent} onGoOn={onGoOn} />}
      <p className="row">
        <button type="button" onClick={onDrills}>
          Choose a drill
        </button>
        <button type="button" onClick={onTunes}>
          Choose a tune
        </button>
      </p>
    </main>
  );
}

function PlanOfToday({ view }: { readonly view: PlanView }) {
  switch (view.kind) {
    case "reading":
      return <Reading onStop={view.onStop} />;
    case "trouble":
      return (
        <p className="notice row" role="alert">
          {view.words}{" "}
          <button type="button" onClick={view.onAgain}>
            Try again
          </button>
        </p>
      );
    case "plan":
      return (
        <>
          <PlanPart {...view.plan} />
          {view.due.length > 0 && <DuePart day={view.day} items={view.due} onChange={view.onDue} />}
        </>
      );
  }
}

function Reading({ onStop }: { readonly onStop: () => void }) {
  useVerbs({ leave: onStop });
  return (
    <p className="row" role="status">
      <span>Working out the plan …</span> <progress aria-label="Working out the plan" />
      <button type="button" onClick={onStop}>
        Stop
      </button>
    </p>
  );
}

function GoOn({
  recent,
  onGoOn,
}: {
  readonly recent: readonly HistoryLine[];
  readonly onGoOn: TodayScreenProps["onGoOn"];
}) {
  const { say } = useWriting();
  return (
    <section aria-labelledby="go-on-title" className="go-on-part">
      <h2 id="go-on-title">Or go on with what you played last</h2>
      <ol className="go-on" onKeyDown={walkRows}>
        {recent.map((line) => (
          <li key={line.id}>
            <button type="button" className="open" onClick={() => onGoOn(line.id)}>
              Go on<span className="only-read-aloud"> with {say(line.title)}</span>
            </button>
            <div>
              <span>{say(line.title)}</span>
              <span className="soft">
                {say(line.harp)} · {line.tempo} · {WHEN.format(new Date(line.atEpochMs))} · {lastTime(line)}
              </span>
            </div>
          </li>
        ))}
      </ol>
    </section>
  );
}

const WHEN = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });
