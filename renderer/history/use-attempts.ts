import { useCallback, useEffect, useRef, useState } from "react";
import type { AttemptFilter, HistoryLine, HistoryStore } from "../store/history-store.ts";

/** Where attempts are looked for. */
export type AttemptSearch = Pick<HistoryStore, "page" | "count">;

/** What was found so far. */
export interface FoundAttempts {
  /** Newest first, as far as they are read; null until the first are. */
  readonly lines: readonly HistoryLine[] | null;
  /** How many there are of what was asked for; null until they are counted. */
  readonly count: number | null;
  /** What they were found by; null until they are. */
  readonly filter: AttemptFilter | null;
  readonly trouble: string | null;
}

const NOTHING: FoundAttempts = { lines: null, count: null, filter: null, trouble: null };

/** Lines read at once: more than one sees, few enough to come in a moment. */
export const PAGE_LINES = 200;

/**
 * Attempts read page by page as they are wanted, never all of them. What was found stays until the next is there.
 *
 * @param version changes whenever the history did: the lines are read anew, as many as before
 */
export function useAttempts(search: AttemptSearch, filter: AttemptFilter, version: number) {
  const [found, setFound] = useState(NOTHING);
  const [isLooking, setLooking] = useState(true);
  const asking = useRef<AbortController | null>(null);
  const latest = useRef(found);
  latest.current = found;

  const look = useCallback(async (read: (signal: AbortSignal) => Promise<FoundAttempts>) => {
    asking.current?.abort();
    asking.current = new AbortController();
    const { signal } = asking.current;
    setLooking(true);
    const next = await read(signal).catch((error: unknown) => ({
      ...latest.current,
      trouble: error instanceof Error ? error.message : String(error),
    }));
    // Another question was asked meanwhile, or this one was given up.
    if (signal.aborted) return;
    setFound(next);
    setLooking(false);
  }, []);

  // biome-ignore lint/correctness/useExhaustiveDependencies: the history changed where the version did
  useEffect(() => {
    const { lines, filter: before } = latest.current;
    const limit = before === filter ? Math.max(PAGE_LINES, lines?.length ?? 0) : PAGE_LINES;
    void look(async (signal) => {
      const [page, count] = await Promise.all([
        search.page({ filter, before: null, limit }, signal),
        search.count(filter, signal),
      ]);
      return { lines: page, count, filter, trouble: null };
    });
    return () => asking.current?.abort();
  }, [search, filter, version, look]);

  /** Reads the next page, where there is one and nothing else is being read. */
  const more = useCallback(() => {
    const { lines, count, filter: of } = latest.current;
    const before = lines?.at(-1);
    if (isLooking || lines === null || of === null || before === undefined) return;
    if (count !== null && lines.length >= count) return;
    void look(async (signal) => {
      const page = await search.page({ filter: of, before, limit: PAGE_LINES }, signal);
      return { ...latest.current, lines: [...lines, ...page], trouble: null };
    });
  }, [search, isLooking, look]);

  /** Gives up what is being looked for: the history stops reading. */
  const stop = useCallback(() => {
    asking.current?.abort();
    setLooking(false);
  }, []);
  return { found, isLooking, more, stop };
}
