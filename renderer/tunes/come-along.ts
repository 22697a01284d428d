import type { Tune } from "../../core/tune/tune.ts";
import { tuneId } from "../../core/tune/tune-id.ts";
import type { KeptTune } from "../store/tune-store.ts";
import { kept } from "./import-tunes.ts";
import { readText } from "./read-text.ts";

/** A book of tunes that comes along. */
export interface Book {
  /** What its tunes are said to be from. */
  readonly name: string;
  /** ABC. */
  readonly text: string;
}

/** All tunes of some books, as the list shows them. Takes a quarter of a second. */
export const tunesOfBooks = (books: readonly Book[]): readonly KeptTune[] =>
  books.flatMap(({ name, text }) => readText(text).tunes.map(({ tune, abc }) => kept(tune, abc, name)));

/**
 * Some tunes of some books: for a worker.
 *
 * @throws RangeError if one is in none of them: a fault of the program
 */
export function tunesCalled(
  titles: readonly string[],
  books: readonly Book[],
): readonly { readonly id: string; readonly tune: Tune }[] {
  const all = books.flatMap(({ text }) => readText(text).tunes);
  return titles.map((title) => {
    const found = all.find(({ tune }) => tune.title === title);
    if (found === undefined) throw new RangeError(`"${title}" does not come along`);
    return { id: tuneId(found.abc), tune: found.tune };
  });
}
