import type { Persistence } from "../settings/keeping.ts";

/** Whether what is kept stays. */
export interface PersistenceAsking {
  now(): Promise<Persistence>;
  /** Asks for it. */
  ask(): Promise<Persistence>;
}

/** The browser's own answers; in the shell nothing has to be asked. */
export function browserPersistence(
  storage: Pick<StorageManager, "persisted" | "persist"> | undefined,
  isInShell: boolean,
): PersistenceAsking {
  const answer = async (yes: () => Promise<boolean>, no: Persistence): Promise<Persistence> => {
    try {
      return (await yes()) ? "promised" : no;
    } catch {
      return "unknown";
    }
  };
  const always = (words: Persistence) => ({ now: async () => words, ask: async () => words });
  if (isInShell) return always("own folder");
  if (storage === undefined) return always("unknown");
  return {
    now: () => answer(() => storage.persisted(), "not promised"),
    ask: () => answer(() => storage.persist(), "refused"),
  };
}
