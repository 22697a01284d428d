/** What the worker of the second copy is to do. */
export type CopyJob = "bring back" | "fill";

/** What it says. */
export type CopyReport =
  | { readonly kind: "progress"; readonly share: number }
  | { readonly kind: "done" }
  | { readonly kind: "failed"; readonly reason: string };
