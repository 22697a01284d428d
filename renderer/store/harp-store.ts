import type { Harp } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import type { Repair } from "../../core/workshop/retune/repair.ts";

/** A layout the player made or imported. */
export interface OwnLayout {
  readonly id: string;
  readonly layout: Layout;
}

/** A harp the player owns. It holds its layout whole, so that a layout deleted later takes no harp with it. */
export interface OwnedHarp {
  readonly id: string;
  readonly harp: Harp;
  /** What the player wants to remember of it; may be empty. */
  readonly note: string;
  /** Its retunings, the latest last; absent where there was none. */
  readonly repairs?: readonly Repair[];
}

/** Where the player's layouts and harps are kept. Every verb rejects with a StoreTrouble when it cannot do its work. */
export interface HarpStore {
  /** By name. */
  layouts(): Promise<readonly OwnLayout[]>;
  /** Keeps a layout, in place of the one with the same id; resolves once it is on disk. */
  keepLayout(layout: OwnLayout): Promise<void>;
  removeLayout(id: string): Promise<void>;
  /** Lowest key note first, then by layout. */
  harps(): Promise<readonly OwnedHarp[]>;
  /** Keeps a harp, in place of the one with the same id; resolves once it is on disk. */
  keepHarp(harp: OwnedHarp): Promise<void>;
  removeHarp(id: string): Promise<void>;
}

export function layoutsByName(layouts: readonly OwnLayout[]): readonly OwnLayout[] {
  return [...layouts].sort((a, b) => inOrder(a.layout.name, b.layout.name) || inOrder(a.id, b.id));
}

export function harpsByKey(harps: readonly OwnedHarp[]): readonly OwnedHarp[] {
  return [...harps].sort(
    (a, b) =>
      a.harp.keyNote - b.harp.keyNote ||
      inOrder(a.harp.layout.name, b.harp.layout.name) ||
      inOrder(a.id, b.id),
  );
}

function inOrder(one: string, other: string): number {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}
