import type { TakeLocks } from "../../renderer/store/take-locks.ts";

/** Locks without a browser. @param names shared by what is to be several windows */
export function ownLocks(names = new Set<string>()): TakeLocks {
  return {
    hold: async (id) => {
      if (names.has(id)) return null;
      names.add(id);
      return () => void names.delete(id);
    },
    held: async () => new Set(names),
  };
}
