import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { joinWithNext, PHRASE_BARS, phrasesOf, splitAt } from "../../../core/tune/phrases.ts";
import { TICKS_PER_SEMIBREVE, type Tune } from "../../../core/tune/tune.ts";
import { ticks } from "../../../core/units.ts";
import { SHIPPED_FILES, shippedText } from "../../support/shipped-tunes.ts";

const QUAVER = TICKS_PER_SEMIBREVE / 8;

function tuneOf(music: string, head = "M:6/8\nL:1/8"): Tune {
  const read = readAbc(`X:1\nT:a tune of ours\n${head}\nK:D\n${music}\n`);
  if (read.kind !== "tunes" || read.tunes[0] === undefined) throw new Error(JSON.stringify(read));
  return read.tunes[0];
}

const words = (tune: Tune, bars: (typeof PHRASE_BARS)[number] = 4) =>
  phrasesOf(tune, bars).map((phrase) => phrase.words);
const starts = (tune: Tune, bars: (typeof PHRASE_BARS)[number] = 4) =>
  phrasesOf(tune, bars).map((phrase) => phrase.startTicks / QUAVER);

const bar = "dAF FED|";
const eight = bar.repeat(8);

describe("phrases", () => {
  test("two strains of eight bars are four phrases of four, each once although they are repeated", () => {
    const tune = tuneOf(`|:${eight.slice(0, -1)}:|:${eight.slice(0, -1)}:|`);
    expect(words(tune)).toEqual(["A 1–4", "A 5–8", "B 1–4", "B 5–8"]);
    // [calc] B begins behind two turns of A: 2 * 8 bars of 6 quavers.
    expect(starts(tune)).toEqual([0, 24, 96, 120]);
  });

  test("they may have two bars or eight", () => {
    const tune = tuneOf(`|:${eight.slice(0, -1)}:|`);
    expect(words(tune, 2)).toEqual(["A 1–2", "A 3–4", "A 5–6", "A 7–8"]);
    expect(words(tune, 8)).toEqual(["A 1–8"]);
  });

  test("an upbeat belongs to the phrase it starts, the one in the middle of the strain too", () => {
    const tune = tuneOf(`|:A|dAF FED|dAF FED|dAF FED|d2A F2A|dAF FED|dAF FED|dAF FED|d3 d2:|`);
    expect(words(tune)).toEqual(["A 1–4", "A 5–8"]);
    // [calc] upbeat of 1, four bars of 6, the last quaver of which starts the second phrase.
    expect(starts(tune)).toEqual([0, 24]);
    expect(phrasesOf(tune, 4)[0]?.endTicks).toBe(24 * QUAVER);
  });

  test("where a long note sounds over the upbeat's place the phrase begins at its bar line", () => {
    const tune = tuneOf(`|:A|dAF FED|dAF FED|dAF FED|d3 d3|dAF FED|dAF FED|dAF FED|d3 d2:|`);
    expect(starts(tune)).toEqual([0, 25]);
  });

  test("a rest before the bar line ends the phrase before it", () => {
    const tune = tuneOf(`dAF FED|dAF FED|dAF FED|d2z zFA|dAF FED|dAF FED|dAF FED|d3 d3|`);
    // [calc] 3 bars of 6 and 4 quavers.
    expect(starts(tune)).toEqual([0, 22]);
  });

  test("a second ending is learned with the bars that lead to it", () => {
    const tune = tuneOf(`|:${bar.repeat(7)}1 dAF d3:|2 dAF D3|]`);
    expect(words(tune)).toEqual(["A 1–4", "A 5–8", "A 5–8"]);
    // [calc] the second time through begins at 48, its fifth bar at 72.
    expect(starts(tune)).toEqual([0, 24, 72]);
  });

  test("a bar or two more than a phrase stay with it", () => {
    expect(words(tuneOf(`${bar.repeat(9)}d6|`))).toEqual(["A 1–4", "A 5–10"]);
    expect(words(tuneOf(`${bar.repeat(3)}`))).toEqual(["A 1–3"]);
  });

  test("phrases are joined and cut by hand, and keep their order", () => {
    const found = phrasesOf(tuneOf(`|:${eight.slice(0, -1)}:|`), 4);
    const joined = joinWithNext(found, 0);
    expect(joined.map((phrase) => phrase.words)).toEqual(["A 1–8"]);
    const cut = splitAt(joined, 0, ticks(12 * QUAVER));
    expect(cut.map(({ index, startTicks }) => [index, startTicks / QUAVER])).toEqual([
      [0, 0],
      [1, 12],
    ]);
    expect(splitAt(joined, 0, ticks(0))).toEqual(joined);
    expect(joinWithNext(found, 1)).toEqual(found);
  });

  test("every written note of every tune that comes along is in a phrase, and no phrase is empty", () => {
    let tunes = 0;
    for (const file of SHIPPED_FILES) {
      const read = readAbc(shippedText(file));
      if (read.kind !== "tunes") throw new Error(read.reason);
      for (const tune of read.tunes) {
        tunes++;
        for (const bars of PHRASE_BARS) {
          const phrases = phrasesOf(tune, bars);
          const within = (start: number) =>
            phrases.some(({ startTicks, endTicks }) => start >= startTicks && start < endTicks);
          const learned = new Set(
            tune.notes.filter((note) => within(note.startTicks)).map((note) => note.written),
          );
          const written = new Set(tune.notes.map((note) => note.written));
          expect([tune.title, bars, learned.size]).toEqual([tune.title, bars, written.size]);
          for (const { startTicks, endTicks } of phrases)
            expect(
              tune.notes.some((note) => note.startTicks >= startTicks && note.startTicks < endTicks),
            ).toBe(true);
        }
      }
    }
    expect(tunes).toBeGreaterThanOrEqual(32);
  });

  test("phrases of any tune of ours follow one another without overlap within a strain", () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom("dAF FED", "d3 D3", "d2z zFA", "z6", "A6"), { minLength: 1, maxLength: 20 }),
        fc.constantFrom(...PHRASE_BARS),
        (music, bars) => {
          if (!music.some((one) => /[A-Ga-g]/.test(one))) return;
          const phrases = phrasesOf(tuneOf(`${music.join("|")}|]`), bars);
          phrases.forEach((phrase, n) => {
            expect(phrase.endTicks).toBeGreaterThan(phrase.startTicks);
            if (n > 0) expect(phrase.startTicks).toBeGreaterThanOrEqual(phrases[n - 1]?.endTicks ?? 0);
          });
        },
      ),
      { numRuns: 100, seed: 5 },
    );
  });
});
