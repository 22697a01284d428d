import type * as v from "valibot";
import { beyond, type Limit } from "./limits.ts";
import { inLine } from "./quoting.ts";

/** A failed field as "notes[3].midi: what is wrong", in one line whatever the file has there. */
export function inWords(issue: v.BaseIssue<unknown>): string {
  const path = (issue.path ?? []).map((item) => item.key as string | number);
  const where = path
    .map((key) => (typeof key === "number" ? `[${key}]` : `.${key}`))
    .join("")
    .replace(/^\./, "");
  return inLine(`${where}: ${issue.message}`);
}

/** What a list longer than a limit is told, for `v.maxLength`. */
export const tooMany =
  (limit: Limit) =>
  ({ input }: { readonly input: { readonly length: number } }): string =>
    beyond(input.length, limit);
