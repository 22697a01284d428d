import { BusyLine } from "../ui/busy-line.tsx";
import { useWriting } from "../ui/writing.ts";
import type { LeftTakeState } from "./use-left-takes.ts";

interface LeftTakeNoticeProps {
  readonly state: LeftTakeState;
  readonly onMark: () => void;
  readonly onThrowAway: () => void;
  readonly onStop: () => void;
}

/** Offers a take back that was cut off by the end of the program. */
export function LeftTakeNotice({ state, onMark, onThrowAway, onStop }: LeftTakeNoticeProps) {
  const { say } = useWriting();
  if (state.kind === "marking")
    return <BusyLine words="Marking the take that was cut off" share={state.share} onStop={onStop} />;
  const { take, trouble } = state;
  return (
    <aside className="row reminder" aria-label="A take that was cut off">
      <span role="status">
        {trouble ??
          `A take of “${say(take.title)}”, ${WHEN.format(new Date(take.atEpochMs))}, was cut off after ${seconds(take.playedSeconds)}; what was recorded of it is here.`}
      </span>
      <span className="row">
        <button type="button" onClick={onMark}>
          Mark it
        </button>
        <button type="button" onClick={onThrowAway}>
          Throw it away
        </button>
      </span>
    </aside>
  );
}

const WHEN = new Intl.DateTimeFormat(undefined, { dateStyle: "medium", timeStyle: "short" });

const seconds = (played: number): string =>
  played < 90 ? `${Math.round(played)} s` : `${Math.round(played / 60)} min`;
