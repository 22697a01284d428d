import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { HistoryRead } from "../history/history-screen.tsx";
import type { OnHistoryChange } from "../store/history-changes.ts";
import type { HistoryEntry, HistoryLine, HistoryStore, Removed } from "../store/history-store.ts";

/** What went wrong, as a sentence for the player. */
export const sentence = (error: unknown) => {
  const words = error instanceof Error ? error.message : String(error);
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
};

/** Lines among which what one may go on with is looked for. */
const RECENT_LINES = 60;

/** What there is in the history, what was played last, and what can be done to it; never all of its lines. */
export function useHistory(store: HistoryStore, onChange: OnHistoryChange) {
  const [read, setRead] = useState<HistoryRead>({ kind: "loading" });
  const [recent, setRecent] = useState<readonly HistoryLine[] | null>(null);
  const [version, setVersion] = useState(0);
  const [deleted, setDeleted] = useState<Removed | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);

  const isStale = useRef(true);
  useEffect(
    () =>
      onChange(() => {
        isStale.current = true;
      }),
    [onChange],
  );
  const readIt = useCallback(async () => {
    isStale.current = false;
    try {
      const [facets, lines] = await Promise.all([store.facets(), store.recent(RECENT_LINES)]);
      setRead({ kind: "read", facets });
      setRecent(lines);
    } catch (error) {
      isStale.current = true;
      setRead({ kind: "trouble", words: sentence(error) });
    }
  }, [store]);
  // Whoever asks of the history as it was found need not ask again once it is read for the first time.
  useEffect(() => void readIt(), [readIt]);
  const refresh = useCallback(() => void readIt().then(() => setVersion((before) => before + 1)), [readIt]);
  const lookAgain = useCallback(() => {
    if (isStale.current) refresh();
  }, [refresh]);

  const open = useCallback(
    async (id: string): Promise<HistoryEntry | null> => {
      try {
        const entry = await store.open(id);
        setTrouble(entry === null ? "That attempt is no longer in the history." : null);
        return entry;
      } catch (error) {
        setTrouble(sentence(error));
        return null;
      }
    },
    [store],
  );
  /** What was deleted cannot be brought back any longer: nothing holds it now. */
  const forget = useCallback(() => setDeleted(null), []);
  const settle = (work: Promise<unknown>) =>
    void work
      .then(
        () => setTrouble(null),
        (error: unknown) => setTrouble(sentence(error)),
      )
      .then(refresh);
  const search = useMemo(() => ({ page: store.page.bind(store), count: store.count.bind(store) }), [store]);
  return {
    read,
    recent,
    /** Changes whenever the history did. */
    version,
    search,
    deleted: deleted === null ? null : deletedInWords(deleted),
    trouble,
    refresh,
    /** Reads it again if it changed, whichever window or worker changed it. */
    lookAgain,
    open,
    star: (id: string, on: boolean) => settle(store.star(id, on)),
    forget,
    remove: (ids: readonly string[]) => settle(store.remove(ids).then(setDeleted)),
    undo: () => {
      if (deleted !== null) settle(store.restore(deleted).then(() => setDeleted(null)));
    },
  };
}

/** Null where nothing went. */
function deletedInWords({ entries }: Removed): string | null {
  const [first] = entries;
  if (first === undefined) return null;
  return entries.length === 1 ? first.exercise.title : `${entries.length} attempts`;
}
