import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readPartOrder } from "../../../../core/tune/abc/part-order.ts";
import { music, names, tuneOf, words } from "./read.ts";

/** Whole bars by the letter of their note: "c|:d:|" -> "c d d". */
const played = (body: string, fields = ""): string => {
  const bars = body.replace(/![^!]*!|P:.|[a-g]/g, (found) => (found.length === 1 ? `${found}8` : found));
  return names(music(bars, fields)).replaceAll("5", "").toLowerCase();
};

describe("repeats (ABC 2.1, 4.8) [F 47]", () => {
  test.each([
    ["|:c|d:|e|]", "c d c d e"],
    ["c|d:|e|]", "c d c d e"],
    ["|:c:|:d:|", "c c d d"],
    ["|:c::d:|", "c c d d"],
    ["|:c:||:d:|", "c c d d"],
    ["|:c:|d:|e|]", "c c d d e"],
    ["c||d:|e|]", "c d d e"],
    ["|::c::|d|]", "c c c d"],
    ["|::c:|d|]", "c c c d"],
    ["|:::c:::|d|]", "c c c c d"],
    ["c::|d|]", "c c c d"],
    ["[|:c:|]d|]", "c c d"],
    ["|[|c|d:|]", "c d c d"],
    ["|:c|d||e:|f|]", "c d e c d e f"],
    ["c.|d[|]e|]", "c d e"],
    ["c| |d|]", "c d"],
    ["|:c:| |:d:|", "c c d d"],
    ["|:c|d|:e:|", "c d e e"],
  ])("%s is played %s", (written, expected) => {
    expect(played(written)).toBe(expected);
  });

  test("signs may stand on different lines", () => {
    expect(played("|:c|\nd:|\n|:e|\nf:|")).toBe("c d c d e f e f");
  });
});

describe("first and second endings, variant endings (4.9, 4.10) [F 47]", () => {
  test.each([
    ["|:c|1 d:|2 e|]", "c d c e"],
    // A second without a first: what stands there is played, though abc2midi 4.84 leaves it out [X].
    ["|:c|d:|2 e|f|]", "c d c d e f"],
    ["c|d:|[2 e|f||g|]", "c d c d e f g"],
    ["|:c|[1 d:|[2 e|]", "c d c e"],
    ["c| [1 d :| [2 e |]", "c d c e"],
    ["|:c|1 d:|2 e|f||a|]", "c d c e f a"],
    ["|:c|1 d:|2 e:|f|]", "c d c e f"],
    ["|:c|1 d|2 e||f|]", "c d c e f"],
    ["|:c|1 d:|2 e|:f:|", "c d c e f f"],
    ["|:c|[1,3 d:|[2 e:|f|]", "c d c e c d f"],
    ["|:c|[1-3 d:|[4 e|]", "c d c d c d c e"],
    ["|:c|[1,3-4 d:|[2 e|]", "c d c e c d c d"],
    ["|:c|1 d:|e|]", "c d c e"],
    ["|:c|1 d|e:|2 f|g|]", "c d e c f g"],
    ["|:c|1. d:|2. e|]", "c d c e"],
  ])("%s is played %s", (written, expected) => {
    expect(played(written)).toBe(expected);
  });

  test("any row of sections, repeated or not, with endings or without, is played one after another", () => {
    const bar = fc.constantFrom(..."cdefgab");
    const section = fc.record({
      body: fc.array(bar, { minLength: 1, maxLength: 4 }),
      times: fc.integer({ min: 1, max: 4 }),
      endings: fc.boolean(),
      last: fc.array(bar, { minLength: 4, maxLength: 4 }),
    });
    fc.assert(
      fc.property(fc.array(section, { minLength: 1, maxLength: 6 }), (sections) => {
        const written = sections.map(({ body, times, endings, last }) => {
          const music = body.join("|");
          if (times === 1) return `${music}||`;
          if (!endings) return `|${":".repeat(times - 1)}${music}${":".repeat(times - 1)}|`;
          const each = last
            .slice(0, times)
            .map((one, at) => `[${at + 1} ${one}${at + 1 < times ? ":|" : "||"}`);
          return `|:${music}|${each.join("")}`;
        });
        // [calc] each section as often as it says, each time with its own ending.
        const expected = sections.flatMap(({ body, times, endings, last }) =>
          Array.from({ length: times }, (_, at) => [
            ...body,
            ...(endings && times > 1 ? [last[at] ?? ""] : []),
          ]).flat(),
        );
        expect(played(written.join("\n"))).toBe(expected.join(" "));
      }),
      { numRuns: 100 },
    );
  });

  test("an ending may begin within a bar, which stays one bar", () => {
    const tune = music("|:c4[1d4:|[2e4|f8|]");
    expect(names(tune)).toBe("C5 D5 C5 E5 F5");
    expect(tune.bars.map(({ lengthTicks, kind }) => `${lengthTicks / 20_160} ${kind}`)).toEqual([
      "8 whole",
      "8 whole",
      "8 whole",
    ]);
  });

  test("| 1 is no ending: the number means nothing and is told", () => {
    expect(words(music("c8| 1 d8|]"))).toContain('"1" means nothing here and is left out');
  });

  test("a part with endings takes one each time it is played", () => {
    expect(played("P:A\nc|[1 d:|[2 e:|[3 f:|[4 g|]", "P:A4")).toBe("c d c e c f c g");
  });
});

describe("parts (3.1.9) [F 47]", () => {
  const two = "P:A\nc|\nP:B\nd|]";

  test.each([
    ["AB", "c d"],
    ["AABB", "c c d d"],
    ["A2B2", "c c d d"],
    ["A.BA", "c d c"],
    ["(AB)3", "c d c d c d"],
    ["((AB)2.A)2", "c d c d c c d c d c"],
    ["A B", "c d"],
  ])("P:%s", (order, expected) => {
    expect(played(two, `P:${order}`)).toBe(expected);
  });

  test("without an order they are played as written, and name the strains", () => {
    const tune = music("P:A\nc8|\nP:B\nd8|]");
    expect(names(tune)).toBe("C5 D5");
    expect(tune.bars.map(({ strain }) => strain)).toEqual(["A", "B"]);
  });

  test("labels may stand in brackets, repeats within parts are played", () => {
    expect(played("[P:A]|:c:|[P:B]d|]", "P:AB")).toBe("c c d");
    expect(words(music("P:A\n|:c8:|\nP:B\nd8|]", "P:AABB"))).toContain(
      "part A is repeated by its own signs and again by the order of parts",
    );
  });

  test("what explains a label is no part of it", () => {
    expect(played("P:A (slow)\nc|\nP:B. quick\nd|]", "P:BA")).toBe("d c");
  });

  test("what stands before the first part is played first", () => {
    expect(played(`e|\n${two}`, "P:AB")).toBe("e c d");
  });

  test("parts that are not there, and parts not asked for, are told", () => {
    expect(words(music("P:A\nc8|\nP:B\nd8|]", "P:AC"))).toEqual([
      "part C is in the order but not in the music",
      "part B is in the music but not in the order",
    ]);
    expect(words(music("c8|", "P:AB"))).toEqual([
      "the order of parts AB is not played, as no part is marked in the music",
    ]);
  });

  test("orders that are none, too deep or too long say so", () => {
    expect(readPartOrder("A(B")).toEqual({ kind: "unreadable", reason: 'P:"A(B" is no order of parts' });
    expect(readPartOrder("A)B")).toMatchObject({ kind: "unreadable" });
    expect(readPartOrder("2A")).toMatchObject({ kind: "unreadable" });
    expect(readPartOrder("((A99)99)99")).toMatchObject({
      reason: expect.stringContaining("more than 1,000 parts"),
    });
    expect(readPartOrder(`${"(".repeat(20)}A`)).toMatchObject({
      reason: expect.stringContaining("more than 16 levels of brackets"),
    });
  });
});

describe("ways back and on (4.14: D.C., D.S., segno, coda, fine) [F 47]", () => {
  test.each([
    // [P] After the jump: no repeats, the last ending, up to the word it ends with.
    ["c|d !fine!|e|f !D.C.!|]", "c d e f c d"],
    ["c|d !fine!|e|f !D.C.alfine!|]", "c d e f c d"],
    ["c|!segno! d|e !fine!|f !D.S.!|]", "c d e f d e"],
    ["|:c:|d !fine!|e !D.C.!|]", "c c d e c d"],
    ["|:c|1 d:|2 e !fine!|f !D.C.!|]", "c d c e f c e"],
    ["c|d !coda!|e|f !D.C.alcoda!|!coda! g|]", "c d e f c d g"],
    ["c|d !dacoda!|e|f !D.C.alcoda!|!coda! g|]", "c d e f c d g"],
    ["c|!segno! d|e !coda!|f !D.S.alcoda!|!coda! g|a|]", "c d e f d e g a"],
    ["c|d|!D.C.!|]", "c d c d"],
    ["Sc|d|!D.S.!|]", "c d c d"],
  ])("%s", (written, expected) => {
    expect(played(written)).toBe(expected);
  });

  test.each([
    ['c8|"Fine"d8|e8|"D.C. al Fine"f8|]', "C5 D5 E5 F5 C5 D5"],
    ['c8|d8"^Fine"|e8|f8"_D.C."|]', "C5 D5 E5 F5 C5 D5"],
    ['c8|d8 "Fine"|e8|f8|]"da capo"', "C5 D5 E5 F5 C5 D5"],
    ['c8|"segno"d8|e8"To Coda"|f8"D.S. al Coda"|"Coda"g8|]', "C5 D5 E5 F5 D5 E5 G5"],
  ])("as a text over the staff: %s", (written, expected) => {
    const tune = music(written);
    expect(names(tune)).toBe(expected);
    expect(tune.chords).toEqual([]);
    expect(tune.remarks).toEqual([]);
  });

  test("a sign that leads nowhere is told, and playing goes on", () => {
    expect(words(music("c8|d8|!D.S.!|]"))).toContain(
      "D.S. has no sign to go back to: the beginning is taken",
    );
    expect(words(music("c8|d8 !D.C.alfine!|]"))).toContain(
      "no Fine is marked: it is played up to where the jump is written",
    );
    expect(words(music("c8|d8 !D.C.alcoda!|]"))).toContain(
      "no way to the coda is marked: it is played on to the end",
    );
  });
});

describe("strains, upbeats and short ends", () => {
  /** Written number, strain and kind of each bar. */
  const shape = (body: string) =>
    music(body).bars.map(({ written, strain, kind }) => `${written}${strain} ${kind}`);

  test("an upbeat belongs to its strain, which ends short by the same", () => {
    expect(shape("d2|:c8|c6:|d2|:e8|e6:|")).toEqual([
      "0A pick-up",
      "1A whole",
      "2A short end",
      "1A whole",
      "2A short end",
      "3B pick-up",
      "4B whole",
      "5B short end",
      "4B whole",
      "5B short end",
    ]);
  });

  test("an upbeat within the repeat is played again", () => {
    expect(shape("|:d2|c8|c6:|")).toEqual([
      "0A pick-up",
      "1A whole",
      "2A short end",
      "0A pick-up",
      "1A whole",
      "2A short end",
    ]);
  });

  test("a strain may end short for the upbeat of the next, each time it is played", () => {
    expect(shape("c8|c6:|d2|:e8|e6:|").map((one) => one.slice(3))).toEqual([
      "whole",
      "short end",
      "whole",
      "short end",
      "pick-up",
      "whole",
      "short end",
      "whole",
      "short end",
    ]);
  });

  test("double bars and repeats begin strains, endings do not", () => {
    expect(shape("|:c8|1 d8:|2 e8||f8||g8|]").map((one) => one.split(" ")[0])).toEqual([
      "0A",
      "1A",
      "0A",
      "2A",
      "3B",
      "4C",
    ]);
  });

  test("a bar that is merely wrong is irregular", () => {
    expect(shape("c8|c7|c8|c9|c8|]")).toEqual([
      "0A whole",
      "1A irregular",
      "2A whole",
      "3A irregular",
      "4A whole",
    ]);
  });

  test("in free metre all bars are whole", () => {
    const tune = tuneOf("X:1\nT:A tune of ours\nM:none\nL:1/8\nK:C\nc3|c5|c|]\n");
    expect(tune.bars.map(({ kind, metre }) => `${kind} ${metre}`)).toEqual(Array(3).fill("whole null"));
  });

  test("each playing of a bar counts its passes", () => {
    expect(music("|:c8|d8:|e8|]").bars.map(({ written, pass }) => `${written}.${pass}`)).toEqual([
      "0.0",
      "1.0",
      "0.1",
      "1.1",
      "2.0",
    ]);
  });
});

test("a tune that plays out to more than the limits is an error that names them", () => {
  expect(() => music(`|::::::::::::::::::::::::::::::::::${"C/////////".repeat(2000)}:|`, "P:A99")).toThrow(
    "more than 50,000 notes",
  );
});
