import { useCallback, useEffect, useState } from "react";
import { harpName } from "../../core/instrument/harp.ts";
import type { HarpList } from "../harps/harps-screen.tsx";
import type { HarpStore, OwnedHarp, OwnLayout } from "../store/harp-store.ts";
import { sentence } from "./use-history.ts";

/** What was deleted last, and the way back. */
interface Deleted {
  readonly words: string;
  readonly restore: () => Promise<void>;
}

/** The player's layouts and harps and what can be done to them. */
export function useHarps(store: HarpStore) {
  const [list, setList] = useState<HarpList>({ kind: "loading" });
  const [layouts, setLayouts] = useState<readonly OwnLayout[]>([]);
  const [deleted, setDeleted] = useState<Deleted | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);

  const refresh = useCallback(() => {
    Promise.all([store.harps(), store.layouts()]).then(
      ([harps, own]) => {
        setList({ kind: "harps", harps });
        setLayouts(own);
      },
      (error: unknown) => setList({ kind: "trouble", words: sentence(error) }),
    );
  }, [store]);
  useEffect(refresh, [refresh]);

  const settle = (work: Promise<unknown>, afterwards: Deleted | null) =>
    void work
      .then(
        () => {
          setTrouble(null);
          setDeleted(afterwards);
        },
        (error: unknown) => setTrouble(sentence(error)),
      )
      .then(refresh);
  return {
    list,
    layouts,
    deleted: deleted?.words ?? null,
    trouble,
    keepLayout: (layout: OwnLayout) => settle(store.keepLayout(layout), null),
    keepHarp: (harp: OwnedHarp) => settle(store.keepHarp(harp), null),
    removeLayout: (layout: OwnLayout) =>
      settle(store.removeLayout(layout.id), {
        words: `Deleted: ${layout.layout.name}`,
        restore: () => store.keepLayout(layout),
      }),
    removeHarp: (harp: OwnedHarp) =>
      settle(store.removeHarp(harp.id), {
        words: `Deleted: ${harpName(harp.harp)}`,
        restore: () => store.keepHarp(harp),
      }),
    undo: () => {
      if (deleted !== null) settle(deleted.restore(), null);
    },
  };
}
