import type { AskKind, ProgressAnswers } from "../progress/progress-view.ts";

/** A question to the worker; answers carry its number. */
export type ProgressQuestion = {
  readonly [Kind in AskKind]: {
    readonly number: number;
    readonly kind: Kind;
    readonly ask: ProgressAnswers[Kind]["ask"];
  };
}[AskKind];

/** What the worker answers. */
export type ProgressReport =
  | {
      readonly number: number;
      readonly kind: "answer";
      readonly answer: ProgressAnswers[AskKind]["answer"];
    }
  | { readonly number: number; readonly kind: "trouble"; readonly words: string };
