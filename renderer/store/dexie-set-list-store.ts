import type { SetList } from "../../core/progress/repertoire/repertoire-set-list.ts";
import type { ReedpathDatabase } from "./database.ts";
import { type SetListStore, setListsByName } from "./set-list-store.ts";
import { orTrouble } from "./store-trouble.ts";
import { written } from "./written.ts";

/** Set lists in the browser's database. */
export class DexieSetListStore implements SetListStore {
  constructor(private readonly database: ReedpathDatabase) {}

  async all(): Promise<readonly SetList[]> {
    return setListsByName(await orTrouble("your set lists", () => this.database.setLists.toArray()));
  }

  async keep(list: SetList): Promise<void> {
    await written(this.database, "your set lists", () => this.database.setLists.put(list));
  }

  async remove(id: string): Promise<void> {
    await written(this.database, "your set lists", () => this.database.setLists.delete(id));
  }
}
