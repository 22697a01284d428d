import type { Harp } from "../../core/instrument/harp.ts";
import { type DrillChoice, FIRST_CHOICE } from "../drills/drill-choice.ts";
import { EMPTY_SHELF, harpOfChoice, type Shelf } from "../drills/shelf.ts";
import type { HarpList } from "../harps/harps-screen.tsx";
import type { OwnLayout } from "../store/harp-store.ts";

/** What the drill chooser offers besides the stock harps. */
export function shelfOf(list: HarpList, layouts: readonly OwnLayout[]): Shelf {
  const harps = list.kind === "harps" ? list.harps : EMPTY_SHELF.harps;
  return { harps, layouts: layouts.map((one) => one.layout) };
}

/** The harp the drills are set to; a G harp where that is no longer there. */
export function usualHarp(choice: DrillChoice, a4Hz: number, shelf: Shelf): Harp {
  const harp = harpOfChoice(choice, a4Hz, shelf) ?? harpOfChoice(FIRST_CHOICE, a4Hz, EMPTY_SHELF);
  if (harp === null) throw new Error("there is always a G harp");
  return harp;
}
