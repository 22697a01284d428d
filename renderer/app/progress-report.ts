import type { ProgressView } from "../progress/progress-view.ts";

/** What the worker answers. */
export type ProgressReport =
  | { readonly kind: "read"; readonly view: ProgressView }
  | { readonly kind: "trouble"; readonly words: string };
