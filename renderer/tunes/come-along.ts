import traditional from "../../assets/tunes/traditional.abc?raw";
import band from "../../assets/tunes/village-band.abc?raw";
import type { Tune } from "../../core/tune/tune.ts";
import { tuneId } from "../../core/tune/tune-id.ts";
import type { KeptTune } from "../store/tune-store.ts";
import { kept } from "./import-tunes.ts";
import { readText } from "./read-text.ts";

/** The books that come along, read anew at each start: they are part of the program, not of what the player keeps. */
const BOOKS = [
  { name: "comes along", text: traditional },
  { name: "comes along, our own", text: band },
] as const;

/** All of them, as the list shows them: for a worker. */
export const tunesThatComeAlong = (): readonly KeptTune[] =>
  BOOKS.flatMap(({ name, text }) => readText(text).tunes.map(({ tune, abc }) => kept(tune, abc, name)));

/**
 * Some of them: for a worker.
 *
 * @throws RangeError if one does not come along: a fault of the program
 */
export function comeAlongCalled(
  titles: readonly string[],
): readonly { readonly id: string; readonly tune: Tune }[] {
  const all = BOOKS.flatMap(({ text }) => readText(text).tunes);
  return titles.map((title) => {
    const found = all.find(({ tune }) => tune.title === title);
    if (found === undefined) throw new RangeError(`"${title}" does not come along`);
    return { id: tuneId(found.abc), tune: found.tune };
  });
}
