/** Says to other windows which running takes are this one's, for as long as it lives: the browser lets go for a window that died. */
export interface TakeLocks {
  /** @returns how to let go; null where another has it */
  hold(id: string): Promise<(() => void) | null>;
  held(): Promise<ReadonlySet<string>>;
}

const PREFIX = "reedpath take ";

/** Locks of the browser: Web Locks, which every window and worker of one origin shares. */
export function browserLocks(manager: LockManager): TakeLocks {
  return {
    hold: (id) =>
      new Promise((resolve, reject) => {
        manager
          .request(`${PREFIX}${id}`, { ifAvailable: true }, async (lock) => {
            if (lock === null) return resolve(null);
            await new Promise<void>(resolve);
          })
          .catch(reject);
      }),
    held: async () => {
      const { held = [] } = await manager.query();
      return new Set(
        held.flatMap(({ name }) => (name?.startsWith(PREFIX) ? [name.slice(PREFIX.length)] : [])),
      );
    },
  };
}
