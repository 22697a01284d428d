import { describe, expect, test } from "vitest";
import { lengthOf } from "../../core/progress/repertoire/repertoire-lay.ts";
import { readAbc } from "../../core/tune/abc/read-abc.ts";
import { SHIPPED_FILES, shippedText } from "../support/shipped-tunes.ts";
import { playedByAbc2midi } from "./abc2midi-playing.ts";
import { hasTool } from "./tools.ts";

const QUAVERS = 8;
const ROUNDING = 1e-9;

/** R: left out: abc2midi swings what R: calls a hornpipe in 2/4 and 4/4, which no ABC 2.1 reading asks for [X]. */
const withoutRhythm = (text: string) => text.replace(/^R:.*\n/gm, "");

describe.skipIf(!hasTool("abc2midi")).each(SHIPPED_FILES)("a tune once through, %s.abc", (file) => {
  const text = shippedText(file);
  const book = readAbc(text);
  const tunes = book.kind === "tunes" ? book.tunes : [];

  test.each(tunes.map((tune) => [tune.title, tune] as const))(
    "%s lasts as long as abc2midi plays it, repeats and all",
    (_, tune) => {
      const theirs = playedByAbc2midi(withoutRhythm(text), tune.number)[0]?.at(-1);
      const { semibreves, tailSemibreves } = lengthOf(tune);
      expect(theirs).toBeDefined();
      // Its file ends with the last note; rests after it are ours alone.
      const end = (theirs?.onset ?? 0) + (theirs?.length ?? 0);
      expect(Math.abs(QUAVERS * (semibreves - tailSemibreves) - end)).toBeLessThan(ROUNDING);
    },
  );
});
