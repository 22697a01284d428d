import type { Harp } from "../../../core/instrument/harp.ts";
import type { Layout } from "../../../core/instrument/layout.ts";
import type { KeysShare } from "../../../core/workshop/design/keys-share.ts";
import type { DesignWish } from "../../../core/workshop/design/wish.ts";

/** What a design is worked out from, as it goes to the worker. */
export interface DesignAsk {
  /** Without faults. */
  readonly wish: DesignWish;
  /** Every tune of the list in ABC: the share four keys play is told of them. */
  readonly texts: readonly string[];
  /** How much they count in the search by dance ("" where none is known), 1 where none is said; null where they do not count. */
  readonly danceWeights: Readonly<Record<string, number>> | null;
  /** Harps whose keys the tunes are played on. */
  readonly harps: readonly Harp[];
  readonly seed: number;
}

/** How the tunes lie on a layout. */
export interface TuneFigures {
  readonly notPlain: number;
  readonly missing: number;
  readonly effort: number;
}

/** One layout of the answer. */
export interface DesignRow {
  readonly layout: Layout;
  readonly changed: number;
  readonly moved: number;
  /** Null where tunes do not count. */
  readonly tunes: TuneFigures | null;
  /** Null where there are no tunes. */
  readonly keys: KeysShare | null;
  /** Whether nothing better with as many changes was left out of the search; null where it was no exact one. */
  readonly proved: boolean | null;
}

export type DesignAnswer =
  | {
      readonly kind: "found";
      readonly start: DesignRow;
      readonly rows: readonly DesignRow[];
      /** Notes not plain and missing on the layouts of the catalogue, by their id; empty where tunes do not count. */
      readonly catalogue: Readonly<Record<string, Omit<TuneFigures, "effort">>>;
      /** Notes of the tunes, times their weights; 0 where they do not count. */
      readonly notes: number;
      /** Tunes on the list, and those that count. */
      readonly tunes: number;
      readonly counting: number;
    }
  | { readonly kind: "impossible"; readonly loosen: readonly Loosened[] }
  | { readonly kind: "too many ways" }
  | { readonly kind: "no notes" };

/** What could give way, in words, and the wish made so. */
export interface Loosened {
  readonly words: readonly string[];
  readonly wish: DesignWish;
}

export type DesignReport =
  | {
      readonly kind: "progress";
      /** 0..1 */
      readonly share: number;
      /** The best so far. */
      readonly best: { readonly changed: number; readonly notPlain: number } | null;
    }
  | { readonly kind: "answer"; readonly answer: DesignAnswer }
  | { readonly kind: "failed"; readonly reason: string };
