import { useCallback, useEffect, useState } from "react";
import { byTitle, type KeptTune, type ListedTune, type TuneStore } from "../store/tune-store.ts";
import { COME_ALONG } from "../tunes/come-along-list.ts";
import type { TuneWork } from "../tunes/tune-work.ts";
import type { TuneList } from "../tunes/tunes-screen.tsx";
import { useBringTunes } from "./use-bring-tunes.ts";
import { sentence } from "./use-history.ts";

interface Deleted {
  readonly words: string;
  readonly tunes: readonly KeptTune[];
}

/**
 * The tunes there are and what can be done to them.
 *
 * @param isWanted whether a room for tunes is open: nothing is read before one is
 */
export function useTunes(store: TuneStore, work: TuneWork, isWanted: boolean) {
  const [list, setList] = useState<TuneList>({ kind: "loading" });
  const [deleted, setDeleted] = useState<Deleted | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);

  const all = useCallback(async () => together(await store.list()), [store]);

  const refresh = useCallback(async () => {
    try {
      setList({ kind: "tunes", tunes: await all() });
    } catch (error) {
      setList({ kind: "trouble", words: sentence(error) });
    }
  }, [all]);
  useEffect(() => {
    if (isWanted) void refresh();
  }, [refresh, isWanted]);

  const open = useCallback(
    async (id: string): Promise<KeptTune | null> => {
      try {
        return COME_ALONG.find((tune) => tune.id === id) ?? (await store.open(id));
      } catch (error) {
        setTrouble(sentence(error));
        return null;
      }
    },
    [store],
  );

  const texts = useCallback(
    async (ids: readonly string[]): Promise<readonly string[]> => {
      const ours = new Map(COME_ALONG.map(({ id, abc }) => [id, abc]));
      const own = await store.texts(ids.filter((id) => !ours.has(id)));
      return [...ids.flatMap((id) => ours.get(id) ?? []), ...own];
    },
    [store],
  );

  const brought = useBringTunes(store, work, refresh, setTrouble);
  const settle = (doing: Promise<unknown>): Promise<void> =>
    doing
      .then(
        () => setTrouble(null),
        (error: unknown) => setTrouble(sentence(error)),
      )
      .then(refresh);
  return {
    list,
    deleted: deleted?.words ?? null,
    trouble,
    open,
    /** By title, read from what is kept. */
    all,
    texts,
    ...brought,
    isOwn: (tune: ListedTune) => !isAlong(tune),
    keep: (tune: KeptTune) => settle(store.keep([tune])),
    /** What is set for the old text stays behind with it. */
    replace: (old: string, tune: KeptTune) =>
      settle(store.keep([tune]).then(() => (old === tune.id ? [] : store.remove([old])))),
    remove: (tune: ListedTune) =>
      void settle(
        store.remove([tune.id]).then((tunes) => setDeleted({ words: `Deleted: ${tune.title}`, tunes })),
      ),
    undo: () => {
      if (deleted !== null) void settle(store.keep(deleted.tunes).then(() => setDeleted(null)));
    },
  };
}

const ALONG_IDS = new Set(COME_ALONG.map(({ id }) => id));
const isAlong = (tune: ListedTune) => ALONG_IDS.has(tune.id);

function together(own: readonly ListedTune[]): readonly ListedTune[] {
  const ours = COME_ALONG.map(({ abc, ...line }) => line);
  return byTitle([...ours, ...own.filter((tune) => !isAlong(tune))]);
}
