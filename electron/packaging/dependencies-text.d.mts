/** Types of dependencies-text.mjs. */

interface Named {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
}

type Direct = Named & { readonly purpose: string };
type Brought = Named & { readonly broughtBy: readonly string[] };

export interface Dependencies {
  readonly about: string;
  readonly program: readonly Direct[];
  readonly window: readonly Direct[];
  readonly brought: readonly Brought[];
  readonly headless: readonly Direct[];
  readonly development: readonly Direct[];
}

export function developersPart(all: Dependencies): string;
export function replacePart(text: string, part: string): string;
export function namesIn(text: string): readonly Named[];
