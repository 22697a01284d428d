import { CalendarPart } from "./calendar-part.tsx";
import type { ProgressRead } from "./progress-view.ts";
import "./progress.css";

interface ProgressScreenProps {
  readonly progress: ProgressRead;
  readonly onStop: () => void;
  readonly onAgain: () => void;
}

/** What the history says: the minutes of each day. */
export function ProgressScreen(props: ProgressScreenProps) {
  return (
    <main className="progress">
      <h1>Minutes of each day</h1>
      <Body {...props} />
    </main>
  );
}

function Body({ progress, onStop, onAgain }: ProgressScreenProps) {
  switch (progress.kind) {
    case "reading":
      return (
        <p role="status">
          Going through the history …{" "}
          <button type="button" onClick={onStop}>
            Stop
          </button>
        </p>
      );
    case "trouble":
      return (
        <div className="notice" role="alert">
          <p>{progress.words}</p>
          <button type="button" onClick={onAgain}>
            Try again
          </button>
        </div>
      );
    case "read":
      return progress.view.days.length === 0 ? (
        <p>Nothing here yet. Every day with a take stands here with its minutes.</p>
      ) : (
        <CalendarPart days={progress.view.days} />
      );
  }
}
