import { type ReactNode, useEffect, useRef } from "react";
import type { HistoryLine } from "../store/history-store.ts";
import { Key, useVerbs } from "../ui/use-verbs.tsx";
import { walkRows } from "../ui/walk-rows.ts";
import { useWriting } from "../ui/writing.ts";
import { lastTime } from "./go-on.ts";
import "./today.css";

interface TodayScreenProps {
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

/** What do I do now? */
export function TodayScreen({ recent, trouble, onGoOn, onDrills, onTunes, children }: TodayScreenProps) {
  const latest = recent?.[0] ?? null;
  useVerbs({ start: latest === null ? null : () => onGoOn(latest.id) });
  return (
    <main className="today">
      <h1>Today</h1>
      {children}
      {trouble !== null && (
        <p className="notice" role="alert">
          {trouble}
        </p>
      )}
      {recent === null && trouble === null && <p role="status">Reading what was practised …</p>}
      {recent !== null && latest === null && (
        <p>Nothing was practised yet. What you play will stand here, to go on with.</p>
      )}
      {recent !== null && latest !== null && <GoOn recent={recent} onGoOn={onGoOn} />}
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

function GoOn({
  recent,
  onGoOn,
}: {
  readonly recent: readonly HistoryLine[];
  readonly onGoOn: TodayScreenProps["onGoOn"];
}) {
  const { say } = useWriting();
  const first = useRef<HTMLButtonElement>(null);
  useEffect(() => first.current?.focus(), []);
  return (
    <ol className="go-on" onKeyDown={walkRows}>
      {recent.map((line, place) => (
        <li key={line.id}>
          <button
            ref={place === 0 ? first : null}
            type="button"
            className={place === 0 ? "open main" : "open"}
            onClick={() => onGoOn(line.id)}
          >
            Go on<span className="only-read-aloud"> with {say(line.title)}</span>{" "}
            {place === 0 && <Key verb="start" />}
          </button>
          <div>
            <span className="go-on-title">{say(line.title)}</span>
            <span className="soft">
              {say(line.harp)} · {line.tempo} · {WHEN.format(new Date(line.atEpochMs))} · {lastTime(line)}
            </span>
          </div>
        </li>
      ))}
    </ol>
  );
}

const WHEN = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });
