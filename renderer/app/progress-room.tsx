import { useCallback, useEffect, useRef, useState } from "react";
import { HistoryScreen } from "../history/history-screen.tsx";
import { ProgressScreen } from "../progress/progress-screen.tsx";
import type { ProgressRead } from "../progress/progress-view.ts";
import { readProgress } from "./progress-work.ts";
import type { useHistory } from "./use-history.ts";

interface ProgressRoomProps {
  readonly history: ReturnType<typeof useHistory>;
  readonly onOpen: (id: string) => void;
}

type Part = "calendar" | "attempts";
const PARTS: readonly (readonly [Part, string])[] = [
  ["calendar", "Calendar"],
  ["attempts", "Attempts"],
];

/** The attempts, and the minutes of each day. */
export function ProgressRoom({ history, onOpen }: ProgressRoomProps) {
  const [part, setChosen] = useState<Part>("attempts");
  const { progress, stop, again } = useProgress(history.read, history.version);
  return (
    <>
      <p className="row parts-of-room">
        {PARTS.map(([one, words]) => (
          <button
            key={one}
            type="button"
            aria-current={one === part ? "page" : undefined}
            onClick={() => setChosen(one)}
          >
            {words}
          </button>
        ))}
      </p>
      {part === "attempts" ? (
        <HistoryScreen
          history={history.read}
          search={history.search}
          version={history.version}
          deleted={history.deleted}
          onOpen={onOpen}
          onStar={history.star}
          onDelete={history.remove}
          onUndo={history.undo}
        />
      ) : (
        <ProgressScreen progress={progress} onStop={stop} onAgain={again} />
      )}
    </>
  );
}

const STOPPED: ProgressRead = { kind: "trouble", words: "Stopped. Nothing was changed." };

/** Read anew whenever the list is: attempts may have been played or deleted since. */
function useProgress(read: ReturnType<typeof useHistory>["read"], version: number) {
  const [progress, setProgress] = useState<ProgressRead>({ kind: "reading" });
  const end = useRef<() => void>(() => {});
  const again = useCallback(() => {
    setProgress({ kind: "reading" });
    end.current = readProgress((report) =>
      setProgress(
        report.kind === "read"
          ? report
          : { kind: "trouble", words: `The history could not be gone through: ${report.words}` },
      ),
    );
  }, []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the history changed where the version did
  useEffect(() => {
    if (read.kind === "trouble") setProgress(read);
    if (read.kind !== "read") return;
    again();
    return () => end.current();
  }, [read.kind, version, again]);
  const stop = () => {
    end.current();
    setProgress(STOPPED);
  };
  return { progress, stop, again };
}
