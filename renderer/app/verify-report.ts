import type { Verified } from "../store/history-store.ts";

/** What the worker says. */
export type VerifyReport =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "done"; readonly verified: Verified }
  | { readonly kind: "failed"; readonly reason: string };
