import type { Practised } from "../store/archive-note.ts";
import { BusyLine } from "../ui/busy-line.tsx";
import type { Archives } from "./use-archives.ts";
import "./archive.css";

interface ReminderProps {
  /** What was practised since the last archive; null where there is nothing to remind of. */
  readonly since: Practised | null;
  readonly archives: Archives;
  readonly onLater: () => void;
}

/** A calm line: what a browser keeps can go with it. */
export function Reminder({ since, archives, onLater }: ReminderProps) {
  const { state, save, stop } = archives;
  if (state.kind === "busy") return <BusyLine words={state.words} share={state.share} onStop={stop} />;
  if (state.kind === "said") return <p role="status">{state.words}</p>;
  if (since === null) return null;
  return (
    <aside className="row reminder" aria-label="Archive">
      <span className="soft">
        {state.kind === "trouble"
          ? state.words
          : `${attemptsInWords(since)} in no archive yet, only in this browser.`}
      </span>
      <span className="row">
        <button type="button" onClick={() => save(true)}>
          Save an archive
        </button>
        <button type="button" onClick={onLater}>
          Not this week
        </button>
      </span>
    </aside>
  );
}

const attemptsInWords = ({ attempts }: Practised) =>
  attempts === 1 ? "1 attempt is" : `${attempts.toLocaleString("en")} attempts are`;
