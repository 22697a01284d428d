import type { SetList } from "../../core/progress/repertoire/repertoire-set-list.ts";
import { type SetListStore, setListsByName } from "./set-list-store.ts";

/** Set lists for as long as the window is open. */
export class MemorySetListStore implements SetListStore {
  private readonly lists = new Map<string, SetList>();

  async all(): Promise<readonly SetList[]> {
    return setListsByName(structuredClone([...this.lists.values()]));
  }

  async keep(list: SetList): Promise<void> {
    this.lists.set(list.id, structuredClone(list));
  }

  async remove(id: string): Promise<void> {
    this.lists.delete(id);
  }
}
