import { expect, test } from "vitest";
import { AIRD, ONEILL, PRINTED_TUNES } from "../../sources/tune-prints.ts";
import { fieldValues, SHIPPED_FILES, shippedText, shippedTunes } from "../../support/shipped-tunes.ts";

const SOURCE = new RegExp(
  `^(?:${[ONEILL, AIRD].map((print) => print.replaceAll(".", "\\.")).join("|")}), no\\. (\\d+)$`,
);

test.each(SHIPPED_FILES)(
  "%s.abc says its source and licence before its first tune, and asks to be read strictly",
  (file) => {
    const text = shippedText(file);
    const head = text.slice(0, text.indexOf("\nX:"));
    expect(head.startsWith("%abc-2.1\n")).toBe(true); // [F47] file identification: strict where the file names the version
    expect(head).toMatch(/^% Source: /m);
    expect(head).toMatch(/^% .*Licence: .*MIT, as the project/m);
  },
);

test.each(SHIPPED_FILES)(
  "the tunes of %s.abc are numbered from 1 without a gap and say who notated them",
  (file) => {
    const tunes = shippedTunes(file);
    expect(tunes.map((tune) => fieldValues(tune, "X"))).toEqual(tunes.map((_, index) => [String(index + 1)]));
    for (const tune of tunes) expect(fieldValues(tune, "Z")).toEqual(["notated for Reedpath"]);
  },
);

test("at least 24 traditional tunes, each with the print and a number that the print has under its title", () => {
  const tunes = shippedTunes("traditional");
  expect(tunes.length).toBeGreaterThanOrEqual(24);
  for (const tune of tunes) {
    const [source = ""] = fieldValues(tune, "S");
    const [title = ""] = fieldValues(tune, "T");
    const number = Number(SOURCE.exec(source)?.[1]);
    const printed = PRINTED_TUNES.find((row) => source.startsWith(row.print) && row.number === number);
    expect(printed, source).toBeDefined();
    expect(title.replace(/ \((first|second) setting\)$/, "")).toBe(printed?.title);
  }
  const sources = tunes.map((tune) => fieldValues(tune, "S")[0]);
  expect(new Set(sources).size).toBe(tunes.length);
});

test("each traditional tune says what it was compared with", () => {
  for (const tune of shippedTunes("traditional")) {
    expect(fieldValues(tune, "N")[0], tune).toMatch(/^Compared with (one|two) transcriptions?(:|\.)/);
  }
});

test("the band's eight tunes are said to be composed for it, bear no print, and no title of a printed tune", () => {
  const tunes = shippedTunes("village-band");
  expect(tunes).toHaveLength(8);
  for (const tune of tunes) {
    expect(fieldValues(tune, "C")).toEqual(["composed for Reedpath"]);
    expect(fieldValues(tune, "N")[0]).toMatch(/^Made for the demo: /);
    expect(fieldValues(tune, "S")).toEqual([]);
    expect(PRINTED_TUNES.map((row) => row.title)).not.toContain(fieldValues(tune, "T")[0]);
  }
  expect(new Set(tunes.map((tune) => fieldValues(tune, "R")[0])).size).toBe(7);
  expect(new Set(tunes.map((tune) => fieldValues(tune, "K")[0])).size).toBe(8);
});

test("a second title stands only where the print gives one", () => {
  const second = shippedTunes("traditional").flatMap((tune) => fieldValues(tune, "T").slice(1));
  expect(second).toEqual(["The White Cockade"]); // [the fact sheet, section 10] Aird vol. 1 no. 1
});
