import type { DemoAttempt } from "../../core/simulate/demo-days.ts";

/** What the worker says. */
export type DemoReport =
  | { readonly kind: "day"; readonly attempts: readonly DemoAttempt[] }
  | { readonly kind: "all" }
  | { readonly kind: "failed"; readonly reason: string };
