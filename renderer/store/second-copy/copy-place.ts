import type { Engine } from "./copy-database.ts";

/** Where the second copy lies. */
export interface CopyPlace {
  /** The engine that keeps it, apart from the other one; rejects where the browser does not allow it. */
  open(): Promise<Engine>;
  /** Whether no other window of the program is open; from then on this one counts as open as long as it lives. */
  isAlone(): Promise<boolean>;
  /** Whoever writes waits no longer than that for the copy: a keeper that does not answer keeps nothing from being kept. */
  readonly longestWaitMs: number;
  /** Does the work while nobody else, in any window or worker, does such work. */
  inTurn<T>(work: () => Promise<T>): Promise<T>;
}

/** Source: Storage API, "Storage Buckets" (WICG): of the navigator and of workers; TypeScript does not know it yet. */
interface StorageBuckets {
  open(
    name: string,
    options: { readonly persisted: boolean; readonly durability: "strict" },
  ): Promise<{ readonly indexedDB: IDBFactory }>;
}

const BUCKET = "second-copy";
/** The lock that every window holds. */
const OPEN = "reedpath open";

/**
 * A bucket of its own: the browser keeps its databases in other files than those of the program's first one, and what befalls
 * these leaves it as it is. Null where the browser has no buckets; those that have none keep their databases in another way.
 */
export function browserCopyPlace(): CopyPlace | null {
  const { storageBuckets, locks } = (globalThis.navigator ?? {}) as Navigator & {
    readonly storageBuckets?: StorageBuckets;
  };
  if (storageBuckets === undefined || locks === undefined) return null;
  return {
    longestWaitMs: 10_000,
    async open() {
      const { indexedDB } = await storageBuckets.open(BUCKET, { persisted: true, durability: "strict" });
      return { indexedDB, IDBKeyRange };
    },
    async isAlone() {
      const { held = [] } = await locks.query();
      // Held until the window is gone.
      void locks.request(OPEN, { mode: "shared" }, () => new Promise(() => {}));
      return !held.some(({ name }) => name === OPEN);
    },
    inTurn: async (work) => locks.request("reedpath second copy", work),
  };
}
