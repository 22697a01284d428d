import type { BackingOfTune } from "../../core/exercise/backing-of-tune.ts";
import {
  type Harp,
  harpInKey,
  type Register,
  registersOfKey,
  withTemperament,
} from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { naturalModeOf } from "../../core/instrument/position-report.ts";
import type { Position } from "../../core/instrument/positions.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { hz } from "../../core/units.ts";
import type { OwnedHarp } from "../store/harp-store.ts";
import { type DrillChoice, SET_OF_DEGREES } from "./drill-choice.ts";

/** The player's tunes, and what the chord symbols of each ask for. */
export interface TuneBackings {
  /** By title. */
  readonly tunes: readonly { readonly id: string; readonly title: string }[];
  readonly of: (id: string) => Promise<BackingOfTune>;
}

/** What the player has besides the stock harps: own layouts, and the harps owned. */
export interface Shelf {
  /** Tunes whose chords can be backed; absent where nobody asks for one. */
  readonly backings?: TuneBackings;
  readonly layouts: readonly Layout[];
  readonly harps: readonly OwnedHarp[];
}

export const EMPTY_SHELF: Shelf = { layouts: [], harps: [] };

/** Layouts to choose from: the catalogue, then the player's own. */
export function layoutsOf(shelf: Shelf): readonly Layout[] {
  return [...STOCK_LAYOUTS, ...shelf.layouts];
}

/** The owned harp of a choice, or null if none is chosen or it is no longer there. */
export function ownedHarpOf(choice: DrillChoice, shelf: Shelf): Harp | null {
  return shelf.harps.find((owned) => owned.id === choice.ownHarp)?.harp ?? null;
}

/** The harp of a choice: an owned one as it is, any other tuned to `a4Hz`; null if its layout is no longer there. */
export function harpOfChoice(choice: DrillChoice, a4Hz: number, shelf: Shelf): Harp | null {
  const owned = ownedHarpOf(choice, shelf);
  if (owned !== null) return owned;
  const layout = layoutsOf(shelf).find((one) => one.id === choice.layout);
  const harp =
    layout === undefined ? null : harpInKey(layout, choice.key, hz(a4Hz), registerOfChoice(choice));
  const { temperament: scheme } = choice;
  return harp === null || scheme === "equal" ? harp : withTemperament(harp, { kind: "scheme", scheme });
}

/** The register of a stock harp; the usual one where its key is not made in the one chosen before. */
export function registerOfChoice({ key, register }: DrillChoice): Register {
  return registersOfKey(key).includes(register) ? register : "usual";
}

/** A position brings its natural mode with it; the player may then take another. A set of degrees stays. */
export function withPosition(choice: DrillChoice, position: Position, shelf: Shelf): DrillChoice {
  if (choice.mode === SET_OF_DEGREES) return { ...choice, position };
  const harp = harpOfChoice(choice, 440, shelf);
  const natural = harp === null ? null : naturalModeOf(harp, position);
  return { ...choice, position, mode: natural ?? choice.mode };
}
