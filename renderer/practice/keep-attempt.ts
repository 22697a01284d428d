import type { HistoryStore, NewEntry } from "../store/history-store.ts";
import type { RunningTake } from "../store/running-take.ts";
import { NotKeptYet } from "../store/store-trouble.ts";
import type { Keeping } from "./practice-state.ts";

/** A database that does not answer must not hold the marks back for longer. */
const LONGEST_WAIT_MS = 2000;

interface KeptSoon {
  /** What became of it, or "keeping" where that is not known after two seconds. Never rejects. */
  readonly soon: Promise<Keeping>;
  /** What became of it in the end. Never rejects. */
  readonly settled: Promise<Keeping>;
  /** That it is kept after all, where it could not be at first and the player tried again; never settles otherwise. */
  readonly afterAll: Promise<Keeping>;
}

/** Keeps an attempt in the history. @param running the running take it was, which goes once it is kept */
export function keepAttempt(
  history: HistoryStore,
  entry: NewEntry,
  running: RunningTake | null = null,
): KeptSoon {
  const kept = (id: string): Keeping => ({ kind: "kept", id });
  let tellAfterAll: (keeping: Keeping) => void = () => {};
  const afterAll = new Promise<Keeping>((resolve) => {
    tellAfterAll = resolve;
  });
  const settled = save(history, entry, running).then(kept, (error: unknown): Keeping => {
    if (error instanceof NotKeptYet) void error.kept.then((id) => tellAfterAll(kept(id)));
    return { kind: "not kept", why: messageOf(error) };
  });
  return { soon: Promise.race([settled, afterwards()]), settled, afterAll };
}

async function save(history: HistoryStore, entry: NewEntry, running: RunningTake | null): Promise<string> {
  if (running === null) return history.save(entry);
  await running.end();
  const id = await history.save(entry, { running: running.id });
  running.leave();
  return id;
}

const afterwards = (): Promise<Keeping> =>
  new Promise((resolve) => setTimeout(() => resolve({ kind: "keeping" }), LONGEST_WAIT_MS));

/** What went wrong, to be set within a sentence. */
export const messageOf = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).replace(/\.$/, "");
