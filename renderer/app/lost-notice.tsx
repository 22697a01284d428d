import { useEffect, useState } from "react";
import type { HistoryStore } from "../store/history-store.ts";
import type { HistoryWitness } from "../store/history-witness.ts";

interface LostNoticeProps {
  readonly services: LostServices;
  /** Counts on whenever the history changes. */
  readonly version: number;
}

export interface LostServices {
  readonly witness: HistoryWitness;
  readonly history: Pick<HistoryStore, "count">;
  /** Attempts that were gone when the window was opened, and are not in the second copy either; 0 for none. */
  readonly lostAttempts: number;
}

/** Says that the browser found its database damaged and began an empty one: it does not say so itself. */
export function LostNotice({ services, version }: LostNoticeProps) {
  const { witness, history, lostAttempts } = services;
  const [isTold, setTold] = useState(lostAttempts === 0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: there are others where the version is another
  useEffect(() => {
    history.count({}).then(
      (attempts) => witness.sees(attempts),
      () => {},
    );
  }, [history, witness, version]);
  if (isTold) return null;
  const attempts = lostAttempts === 1 ? "1 attempt" : `${lostAttempts.toLocaleString("en")} attempts`;
  return (
    <aside className="notice row" aria-label="History lost">
      <span role="alert">
        The history with {attempts} was damaged on the disk, and the browser began an empty one: bring in your
        newest archive or backup, under Settings.
      </span>
      <button
        type="button"
        onClick={() => {
          witness.told();
          setTold(true);
        }}
      >
        I have read it
      </button>
    </aside>
  );
}
