import type { HistoryStore, NewEntry } from "../store/history-store.ts";
import type { Keeping } from "./practice-state.ts";

/** A database that does not answer must not hold the marks back for longer. */
const LONGEST_WAIT_MS = 2000;

interface KeptSoon {
  /** What became of it, or "keeping" where that is not known after two seconds. Never rejects. */
  readonly soon: Promise<Keeping>;
  /** What became of it in the end. Never rejects. */
  readonly settled: Promise<Keeping>;
}

/** Keeps an attempt in the history. */
export function keepAttempt(history: HistoryStore, entry: NewEntry): KeptSoon {
  const settled = history.save(entry).then(
    (id): Keeping => ({ kind: "kept", id }),
    (error: unknown): Keeping => ({ kind: "not kept", why: messageOf(error) }),
  );
  return { soon: Promise.race([settled, afterwards()]), settled };
}

const afterwards = (): Promise<Keeping> =>
  new Promise((resolve) => setTimeout(() => resolve({ kind: "keeping" }), LONGEST_WAIT_MS));

/** What went wrong, to be set within a sentence. */
export const messageOf = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).replace(/\.$/, "");
