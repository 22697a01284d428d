import { readFileSync } from "node:fs";

export const SHIPPED_FILES = ["traditional", "village-band"] as const;
export type ShippedFile = (typeof SHIPPED_FILES)[number];

/** The text of one file of the tunes that come along. */
export function shippedText(file: ShippedFile): string {
  return readFileSync(new URL(`../../assets/tunes/${file}.abc`, import.meta.url), "utf8");
}

/** The text of each tune in it, from its X: to the line before the empty one. */
export function shippedTunes(file: ShippedFile): readonly string[] {
  return shippedText(file)
    .split(/\n{2,}/)
    .map((block) => block.trim())
    .filter((block) => block.startsWith("X:"));
}

/** Every value a field of a tune's text has, in order. */
export function fieldValues(tune: string, letter: string): readonly string[] {
  return tune
    .split("\n")
    .filter((line) => line.startsWith(`${letter}:`))
    .map((line) => line.slice(2).trim());
}
