/** Types of icon-files.mjs. */

export interface Drawn {
  readonly size: number;
  readonly png: Uint8Array;
  readonly rgba: Uint8Array;
}

export const ICO_SIZES: readonly number[];
export const ICNS_KINDS: Readonly<Record<string, number>>;
export function ico(all: readonly Drawn[]): Buffer;
export function icns(all: readonly Drawn[]): Buffer;
