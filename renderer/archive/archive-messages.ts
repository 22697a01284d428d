import type { AttemptFilter } from "../store/history-store.ts";
import type { BringWish, Brought } from "./bring-in.ts";
import type { Look } from "./look-at-archive.ts";
import type { TableOf } from "./table-texts.ts";

/** What the worker is asked to do; once. */
export type ArchiveJob =
  | { readonly kind: "archive"; readonly withTakes: boolean }
  | { readonly kind: "table"; readonly of: TableOf; readonly filter: AttemptFilter }
  | { readonly kind: "look"; readonly file: Blob }
  | { readonly kind: "bring in"; readonly file: Blob; readonly wish: BringWish };

/** What the window says meanwhile: that the last piece has been put away. */
export type ArchiveAsk = ArchiveJob | { readonly kind: "next piece" };

/** What the worker says. */
export type ArchiveReport =
  | { readonly kind: "progress"; readonly share: number }
  /** The next comes only once this one has been put away, so that none pile up. */
  | { readonly kind: "piece"; readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly kind: "all" }
  | { readonly kind: "looked"; readonly look: Look }
  | { readonly kind: "brought"; readonly brought: Brought }
  | { readonly kind: "failed"; readonly reason: string };
