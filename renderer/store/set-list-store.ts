import type { SetList } from "../../core/progress/repertoire/repertoire-set-list.ts";

/** Where set lists for dances are kept. Every verb rejects with a StoreTrouble when it cannot do its work. */
export interface SetListStore {
  /** By name. */
  all(): Promise<readonly SetList[]>;
  /** Keeps a set list, in place of the one with the same id; resolves once it is on disk. */
  keep(list: SetList): Promise<void>;
  remove(id: string): Promise<void>;
}

const inOrder = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" });

export function setListsByName(lists: readonly SetList[]): readonly SetList[] {
  return [...lists].sort((a, b) => inOrder.compare(a.name, b.name) || (a.id < b.id ? -1 : 1));
}
