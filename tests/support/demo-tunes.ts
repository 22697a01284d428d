import type { DemoTune } from "../../core/simulate/demo-repertoire.ts";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { SHIPPED_FILES, shippedText } from "./shipped-tunes.ts";

/** Two tunes composed for the village band and a traditional one. */
export const DEMO_TITLES = [
  "The Lamp over the Hall Door",
  "Chairs Against the Wall",
  "The Rakes of Mallow",
] as const;

/** Those tunes as they come along, called by their titles. */
export function demoTunes(): readonly DemoTune[] {
  const all = SHIPPED_FILES.flatMap((file) => {
    const read = readAbc(shippedText(file));
    return read.kind === "tunes" ? read.tunes : [];
  });
  return DEMO_TITLES.map((title) => {
    const tune = all.find((one) => one.title === title);
    if (tune === undefined) throw new Error(`"${title}" does not come along`);
    return { tuneId: title, tune };
  });
}
