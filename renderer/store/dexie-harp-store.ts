import type { ReedpathDatabase } from "./database.ts";
import { type HarpStore, harpsByKey, layoutsByName, type OwnedHarp, type OwnLayout } from "./harp-store.ts";
import { orTrouble } from "./store-trouble.ts";
import { written } from "./written.ts";

/** Layouts and harps in the browser's database. */
export class DexieHarpStore implements HarpStore {
  constructor(private readonly database: ReedpathDatabase) {}

  async layouts(): Promise<readonly OwnLayout[]> {
    return layoutsByName(await orTrouble("your layouts", () => this.database.layouts.toArray()));
  }

  async keepLayout(layout: OwnLayout): Promise<void> {
    await written(this.database, "your layouts", () => this.database.layouts.put(layout));
  }

  async removeLayout(id: string): Promise<void> {
    await written(this.database, "your layouts", () => this.database.layouts.delete(id));
  }

  async harps(): Promise<readonly OwnedHarp[]> {
    return harpsByKey(await orTrouble("your harps", () => this.database.harps.toArray()));
  }

  async keepHarp(harp: OwnedHarp): Promise<void> {
    await written(this.database, "your harps", () => this.database.harps.put(harp));
  }

  async removeHarp(id: string): Promise<void> {
    await written(this.database, "your harps", () => this.database.harps.delete(id));
  }
}
