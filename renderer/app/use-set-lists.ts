import { useCallback, useEffect, useState } from "react";
import type { SetList } from "../../core/progress/repertoire/repertoire-set-list.ts";
import { type SetListStore, setListsByName } from "../store/set-list-store.ts";
import type { SetLists } from "../tunes/set-lists-screen.tsx";
import { sentence } from "./use-history.ts";

/** What was taken out last, and the list as it was before. */
interface Taken {
  readonly words: string;
  readonly before: SetList;
}

/** The player's set lists and what can be done to them. What is changed is seen at once and written behind. */
export function useSetLists(store: SetListStore) {
  const [lists, setLists] = useState<SetLists>({ kind: "loading" });
  const [taken, setTaken] = useState<Taken | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    let left = false;
    store.all().then(
      (all) => {
        if (!left) setLists({ kind: "lists", lists: all });
      },
      (error: unknown) => setLists({ kind: "trouble", words: sentence(error) }),
    );
    return () => {
      left = true;
    };
  }, [store]);
  const settle = useCallback(
    (writing: Promise<void>) =>
      void writing.then(
        () => setTrouble(null),
        (error: unknown) => setTrouble(sentence(error)),
      ),
    [],
  );
  const show = (change: (all: readonly SetList[]) => readonly SetList[]) =>
    setLists((before) =>
      before.kind === "lists" ? { kind: "lists", lists: setListsByName(change(before.lists)) } : before,
    );
  const keep = (list: SetList, lost: Taken | null = null) => {
    show((all) => [...all.filter(({ id }) => id !== list.id), list]);
    setTaken(lost);
    settle(store.keep(list));
  };
  return {
    lists,
    taken: taken?.words ?? null,
    trouble,
    keep,
    keepWithout: (list: SetList, before: SetList, words: string) => keep(list, { words, before }),
    remove: (list: SetList) => {
      show((all) => all.filter(({ id }) => id !== list.id));
      setTaken({
        words: `Deleted: ${list.name === "" ? "a dance without a name" : list.name}`,
        before: list,
      });
      settle(store.remove(list.id));
    },
    undo: () => {
      if (taken !== null) keep(taken.before);
    },
  };
}
