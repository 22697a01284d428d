import { type HarpStore, harpsByKey, layoutsByName, type OwnedHarp, type OwnLayout } from "./harp-store.ts";

/** Layouts and harps for as long as the window is open. */
export class MemoryHarpStore implements HarpStore {
  private readonly ownLayouts = new Map<string, OwnLayout>();
  private readonly ownHarps = new Map<string, OwnedHarp>();

  async layouts(): Promise<readonly OwnLayout[]> {
    return layoutsByName(structuredClone([...this.ownLayouts.values()]));
  }

  async keepLayout(layout: OwnLayout): Promise<void> {
    this.ownLayouts.set(layout.id, structuredClone(layout));
  }

  async removeLayout(id: string): Promise<void> {
    this.ownLayouts.delete(id);
  }

  async harps(): Promise<readonly OwnedHarp[]> {
    return harpsByKey(structuredClone([...this.ownHarps.values()]));
  }

  async keepHarp(harp: OwnedHarp): Promise<void> {
    this.ownHarps.set(harp.id, structuredClone(harp));
  }

  async removeHarp(id: string): Promise<void> {
    this.ownHarps.delete(id);
  }
}
