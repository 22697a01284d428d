import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { LIMITS } from "../../../../core/reading/limits.ts";
import { decodeText } from "../../../../core/tune/abc/decode-text.ts";
import { MOST_REMARKS } from "../../../../core/tune/abc/limits.ts";
import { readAbc, readAbcTune } from "../../../../core/tune/abc/read-abc.ts";
import { splitAbc } from "../../../../core/tune/abc/split-abc.ts";
import type { BadTune, Tune } from "../../../../core/tune/tune.ts";
import { names, quavers, tuneOf, words } from "./read.ts";

const latin1 = (text: string) => Uint8Array.from(text, (sign) => sign.charCodeAt(0));
const utf8 = (text: string) => new Uint8Array(Buffer.from(text, "utf8"));

function book(text: string): { readonly tunes: readonly Tune[]; readonly bad: readonly BadTune[] } {
  const read = readAbc(text);
  if (read.kind === "unreadable") throw new Error(read.reason);
  return read;
}

describe("bytes (ABC 2.1, 2.2.4, 8) [F 47]", () => {
  const foreign = "Wägelein für Ångström";

  test("UTF-8 with and without its mark, else Latin-1", () => {
    expect(decodeText(utf8(foreign))).toBe(foreign);
    expect(decodeText(utf8(`\uFEFF${foreign}`))).toBe(foreign);
    expect(decodeText(latin1(foreign))).toBe(foreign);
    // Beyond 16 bits: the segno of Unicode's musical symbols.
    expect(decodeText(utf8("𝄋 C"))).toBe("𝄋 C");
  });

  test("bytes that only look like UTF-8 are Latin-1", () => {
    // [F] RFC 3629: overlong forms, surrogates and values beyond 10FFFF are not UTF-8.
    for (const bytes of [[0xc0, 0xaf], [0xed, 0xa0, 0x80], [0xf4, 0x90, 0x80, 0x80], [0xe2, 0x82], [0x80]]) {
      expect(decodeText(Uint8Array.from(bytes))).toBe(String.fromCharCode(...bytes));
    }
  });

  test("UTF-16 where its mark says so", () => {
    expect(decodeText(Uint8Array.from([0xff, 0xfe, 0x41, 0, 0xe9, 0]))).toBe("Aé");
    expect(decodeText(Uint8Array.from([0xfe, 0xff, 0, 0x41, 0, 0xe9]))).toBe("Aé");
  });

  test("any text survives UTF-8 as the platform's own encoder writes it", () => {
    const text = fc.string({ unit: "binary", maxLength: 300 }).map((any) => any.replace(/[\r\uFEFF]/g, ""));
    fc.assert(fc.property(text, (one) => decodeText(utf8(one)) === one));
  });

  test("line ends of every kind", () => {
    const lines = ["X:1", "T:A tune of ours", "K:C", "CD|", "", "X:2", "T:Another of ours", "K:C", "EF|"];
    for (const end of ["\n", "\r\n", "\r"]) {
      const text = lines.join(end);
      expect(decodeText(utf8(text)).split("\n")).toEqual(lines);
      expect(book(text).tunes.map(names)).toEqual(["C4 D4", "E4 F4"]);
    }
  });
});

describe("files (2.2) [F 47]", () => {
  const tune = (number: number, notes = "C") => `X:${number}\nT:Tune ${number} of ours\nK:C\n${notes}|\n`;

  test("tunes end with an empty line; free text between them is passed over", () => {
    const { tunes, bad } = book(`Some words.\n\n${tune(1)}\nMore words, and a B:| too.\n\n${tune(2)}`);
    expect(tunes.map(({ number }) => number)).toEqual([1, 2]);
    expect(bad).toEqual([]);
  });

  test("a next X: ends a tune too, and numbers may be any", () => {
    const { tunes } = book(`${tune(3)}${tune(99_999)}${tune(3)}X:\nT:No number\nK:C\nC|`);
    expect(tunes.map(({ number }) => number)).toEqual([3, 99_999, 3, 4]);
  });

  test("the file's header holds for every tune, its own fields for one alone", () => {
    const text = `%abc-2.1\nM:3/4\nL:1/4\nC:nobody\nR:waltz\n\nX:1\nT:One of ours\nK:C\nC|\n\nX:2\nT:Two of ours\nM:6/8\nL:1/8\nR:jig\nK:C\nC|\n\nX:3\nT:Three of ours\nK:C\nC|\n`;
    const { tunes } = book(text);
    expect(tunes.map(({ metre }) => metre?.beats)).toEqual([3, 6, 3]);
    expect(tunes.map((one) => quavers(one)[0])).toEqual([2, 1, 2]);
    expect(tunes.map(({ dance }) => dance)).toEqual(["waltz", "jig", "waltz"]);
    expect(tunes[2]?.fields).toEqual([{ kind: "composer", text: "nobody" }]);
  });

  test("what is wrong in the file's header is told once, not with every tune", () => {
    const read = readAbc(`C:nobody\nJ:what\n%%unheard of\nT:Lost\n\n${tune(1)}\n${tune(2)}`);
    if (read.kind === "unreadable") throw new Error(read.reason);
    expect(read.remarks).toEqual([
      { place: { line: 2, column: 1 }, words: "the field J: is not known and is left out" },
      { place: { line: 3, column: 1 }, words: 'the directive "unheard" is not obeyed' },
      {
        place: { line: 4, column: 1 },
        words: "the line T: before the first X: belongs to no tune and is left out",
      },
    ]);
    expect(read.tunes.flatMap(words)).toEqual([]);
  });

  test("one bad tune never loses the others, and is named with its place", () => {
    const text = `${tune(1)}\nX:2\nT:A bad tune of ours\nM:4/4\nCDE|\n\n${tune(3)}\nX:4\nT:Another\nK:C\nC2 ^D9999|\n\n${tune(5)}`;
    const { tunes, bad } = book(text);
    expect(tunes.map(({ number }) => number)).toEqual([1, 3, 5]);
    expect(bad).toEqual([
      {
        number: 2,
        title: "A bad tune of ours",
        place: { line: 6, column: 1 },
        reason: "the tune has no line K:, so it cannot be told where its music begins",
      },
      {
        number: 4,
        title: "Another",
        place: { line: 19, column: 4 },
        reason: "this note is longer than 64 semibreves",
      },
    ]);
  });

  test("several hundred tunes in a file", () => {
    const text = Array.from({ length: 700 }, (_, index) => tune(index + 1)).join("\n");
    expect(book(text).tunes.at(-1)).toMatchObject({ number: 700, title: "Tune 700 of ours" });
  });

  test("a tune read alone is the same as read with the others", () => {
    const text = `L:1/16\nM:6/8\n\n${tune(1, "^F f")}\n${tune(2, "[K:D]F f- ")}\n${tune(3, "f F [CE")}\n${tune(4)}`;
    const together = book(text).tunes;
    const pieces = splitAbc(text);
    if (pieces.kind === "unreadable") throw new Error(pieces.reason);
    const alone = [...pieces.tunes].reverse().map((piece) => readAbcTune(pieces.header, piece));
    expect(alone.reverse()).toEqual(together.map((one) => ({ kind: "tune", tune: one })));
  });

  test("music after an empty line is not lost without a word", () => {
    const { tunes } = book(`${tune(1)}\nDEF GAB|\n`);
    expect(tunes.map(words)).toEqual([
      ["what follows the empty line 5 is not read, as an empty line ends a tune"],
    ]);
    expect(book("X:1\nT:A tune of ours\nK:C\n\nDEF GAB|\n").bad[0]?.reason).toBe(
      "the tune has no notes before the empty line 4, which ends it",
    );
  });

  test("a pasted tune needs no X:, a text without a tune says so", () => {
    expect(names(tuneOf("T:A tune of ours\nK:D\nF|"))).toBe("F#4");
    expect(readAbc("Dear friend,\nhere are no tunes.")).toEqual({
      kind: "unreadable",
      reason: "there is no tune in this text: a tune begins with a line X: and has a K:",
    });
    expect(readAbc("")).toMatchObject({ kind: "unreadable" });
  });

  test("texts and tunes that are too large are refused with the limit", () => {
    expect(readAbc(" ".repeat(LIMITS.abcCharacters.most + 1))).toEqual({
      kind: "unreadable",
      reason: "the text has 50,000,001 characters; at most 50,000,000 are read",
    });
    const { bad, tunes } = book(`${tune(1, "C".repeat(LIMITS.abcTuneCharacters.most))}\n${tune(2)}`);
    expect(bad[0]).toMatchObject({ number: 1, title: "Tune 1 of ours" });
    expect(bad[0]?.reason).toContain("at most 100,000 are read");
    expect(tunes).toHaveLength(1);
  });

  test("remarks without end are counted", () => {
    const tune = tuneOf(`X:1\nT:A tune of ours\nK:C\nC ${"#?".repeat(100)}|`);
    const many = tuneOf(
      `X:1\nT:A tune of ours\n${Array.from({ length: 80 }, (_, at) => `%%unknown${at}`).join("\n")}\nK:C\nC|`,
    );
    expect(many.remarks).toHaveLength(MOST_REMARKS + 1);
    expect(many.remarks.at(-1)?.words).toBe("and 30 more");
    expect(tune.remarks).toHaveLength(MOST_REMARKS + 1);
  });
});
