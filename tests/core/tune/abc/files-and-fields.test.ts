import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { decodeText } from "../../../../core/tune/abc/decode-text.ts";
import { LARGEST_TEXT, LARGEST_TUNE, MOST_REMARKS } from "../../../../core/tune/abc/limits.ts";
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
  const title = "Wägelein für Ångström";

  test("UTF-8 with and without its mark, else Latin-1", () => {
    expect(decodeText(utf8(title))).toBe(title);
    expect(decodeText(utf8(`\uFEFF${title}`))).toBe(title);
    expect(decodeText(latin1(title))).toBe(title);
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
    expect(readAbc(" ".repeat(LARGEST_TEXT + 1))).toEqual({
      kind: "unreadable",
      reason: "the text has 50,000,001 characters; at most 50,000,000 are read",
    });
    const { bad, tunes } = book(`${tune(1, "C".repeat(LARGEST_TUNE))}\n${tune(2)}`);
    expect(bad[0]).toMatchObject({ number: 1, title: "Tune 1 of ours" });
    expect(bad[0]?.reason).toContain("at most 200,000 are read");
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

describe("fields (3.1) [F 47]", () => {
  const withFields = (...fields: string[]) =>
    tuneOf(["X:1", "T:A tune of ours", ...fields, "K:C", "CDEF|", ""].join("\n"));

  test("titles on several lines, and titles within the music", () => {
    const tune = tuneOf("X:1\nT:A tune of ours\nT:Its other name\nK:C\nC|\nT:The second half\nD|\n");
    expect([tune.title, ...tune.otherTitles]).toEqual([
      "A tune of ours",
      "Its other name",
      "The second half",
    ]);
    expect(tuneOf("X:7\nK:C\nC|")).toMatchObject({ title: "Tune 7" });
  });

  test("fields for people are kept, with their continuation (3.3)", () => {
    const tune = withFields(
      "C:nobody",
      "O:nowhere; a village",
      "S:a print",
      "B:a book",
      "D:a disc",
      "F:a file",
      "G:a group",
      "H:a story",
      "+:that goes on",
      "N:a note",
      "Z:a hand",
      "A:an area",
      "%%abc-copyright (c) nobody",
    );
    expect(tune.fields.map(({ kind, text }) => `${kind}: ${text}`)).toEqual([
      "composer: nobody",
      "origin: nowhere; a village",
      "source: a print",
      "book: a book",
      "discography: a disc",
      "file: a file",
      "group: a group",
      "history: a story that goes on",
      "notes: a note",
      "transcription: a hand",
      "area: an area",
      "copyright: (c) nobody",
    ]);
  });

  test("comments end a line, except for an escaped percent sign (2.2.5)", () => {
    const tune = tuneOf(
      "X:1\nT:Half \\% of ours % a remark\n% a remark\nK:D % two sharps\nF G % A B|\nA|% c\n",
    );
    expect(tune.title).toBe("Half % of ours");
    expect(names(tune)).toBe("F#4 G4 A4");
  });

  test("text strings: mnemonics, entities, code points (8.2)", () => {
    const title = (text: string) => tuneOf(`X:1\nT:${text}\nK:C\nC|`).title;
    expect(title("\\'a \\`e \\^o \\\"u \\~n \\cc \\vs \\aa \\/o \\ss \\ae")).toBe("á è ô ü ñ ç š å ø ß æ");
    expect(title("&eacute; &uuml; &ntilde; &copy; &amp; \\u00e9 \\& &unknown;")).toBe(
      "é ü ñ © & é & &unknown;",
    );
  });

  test("words under the music are passed over and lose nothing", () => {
    const tune = tuneOf("X:1\nT:A tune of ours\nK:C\nCD|\nw:some words|- * _\ns:!f!\nEF|\nW:more words\n");
    expect(names(tune)).toBe("C4 D4 E4 F4");
    expect(tune.remarks).toEqual([]);
  });

  test("unknown fields and directives are skipped with a remark, each once", () => {
    const tune = withFields("J:what", "%%unheard of", "%%unheard again", "m:~g2 = {a}g{f}g", "neither");
    expect(words(tune)).toEqual([
      "the field J: is not known and is left out",
      'the directive "unheard" is not obeyed',
      "macros (m:) are not played out: the field is left out",
      '"neither" is no field and is left out',
    ]);
  });

  test("text blocks between %%begintext and %%endtext are no music", () => {
    const tune = tuneOf("X:1\nT:A tune of ours\nK:C\nCD|\n%%begintext\nABC|\n%%endtext\nEF|\n");
    expect(names(tune)).toBe("C4 D4 E4 F4");
  });

  test.each([
    ["4/4", { beats: 4, unit: 4 }],
    ["C", { beats: 4, unit: 4 }],
    ["C|", { beats: 2, unit: 2 }],
    ["6/8", { beats: 6, unit: 8 }],
    ["(2+3+2)/8", { beats: 7, unit: 8 }],
    ["2+3/8", { beats: 5, unit: 8 }],
    ["none", null],
    ["", null],
  ])("M:%s", (written, metre) => {
    expect(withFields(`M:${written}`).metre).toEqual(metre);
  });

  test("values that are none are left out with a remark", () => {
    const tune = withFields("M:six", "L:x", "Q:fast", "P:A(");
    expect(words(tune)).toEqual([
      'M:"six" is no metre; it is left out',
      'L:"x" is no note length; it is left out',
      'Q:"fast" is no tempo; it is left out',
      'P:"A(" is no order of parts; it is left out',
    ]);
  });
});

describe("tempo (3.1.8, 10.1) [F 47]", () => {
  const tempo = (...fields: string[]) => {
    const tune = tuneOf(["X:1", "T:A tune of ours", ...fields, "K:C", "CDEF|", ""].join("\n"));
    return `${tune.tempo.noteValue}=${tune.tempo.bpm} ${tune.tempoFrom}`;
  };

  test.each([
    [["Q:1/4=120"], "1/4=120 tune"],
    [["Q:3/8=116"], "3/8=116 tune"],
    [['Q:"lively" 1/2=100'], "1/2=100 tune"],
    [['Q:1/8=200 "steady"'], "1/8=200 tune"],
    // [calc] five quavers of a beat, 40 a minute: 5/8 ÷ 1/4 × 40.
    [["Q:1/4 3/8=40"], "1/4=100 tune"],
    // [calc] 3/4 × 40 = 1/4 × 120.
    [["Q:3/4=40"], "1/4=120 tune"],
    // [calc] 360 quavers are 120 dotted crotchets in 6/8, and 180 crotchets in 4/4.
    [["M:6/8", "Q:1/8=360"], "3/8=120 tune"],
    [["M:4/4", "Q:1/8=360"], "1/4=180 tune"],
    // [calc] deprecated: 120 unit notes of a quaver are 60 crotchets; Q:120 counts what L: says.
    [["L:1/8", "Q:120"], "1/8=120 tune"],
    [["L:1/4", "Q:120"], "1/4=120 tune"],
    [["L:1/8", "Q:C=120"], "1/8=120 tune"],
    [["L:1/8", "Q:C3=40"], "3/8=40 tune"],
    // Words alone name no number: none is made up.
    [['Q:"Allegro"', "R:reel"], "1/2=116 dance"],
    [["R:jig"], "3/8=116 dance"],
    [["M:9/8"], "3/8=144 dance"],
    [["M:4/4"], "1/4=120 neither"],
    [["R:air"], "1/4=120 neither"],
  ])("%j is %s", (fields, expected) => {
    expect(tempo(...fields)).toBe(expected);
  });

  test("a tempo in the music before the first note holds, a later one is told", () => {
    const tune = tuneOf("X:1\nT:A tune of ours\nL:1/8\nK:C\n[Q:1/4=90]CD|\nQ:1/4=60\nEF|\n");
    expect(tune.tempo.bpm).toBe(90);
    expect(words(tune)).toEqual(["a change of tempo within the tune is left out"]);
  });

  test("a speed that cannot be set is told", () => {
    expect(words(tuneOf("X:1\nT:A tune of ours\nQ:1/2=9999\nK:C\nC|"))).toEqual([
      "the tempo is beyond what can be set: 1/2 = 240 is taken",
    ]);
  });
});

describe("dances (3.1.15) [P]", () => {
  test.each([
    ["reel", "reel"],
    ["Reel (set)", "reel"],
    ["jig", "jig"],
    ["Double Jig", "jig"],
    ["double_jig", "jig"],
    ["Slip Jig", "slip-jig"],
    ["hop jig", "slip-jig"],
    ["single jig", "single-jig"],
    ["Slide", "slide"],
    ["hornpipe", "hornpipe"],
    ["Horn-pipe", "hornpipe"],
    ["Strathspey", "strathspey"],
    ["polka", "polka"],
    ["March", "march"],
    ["Waltz", "waltz"],
    ["barndance", "barn-dance"],
    ["Schottische", "barn-dance"],
    ["Highland Fling", "fling"],
    ["mazurka", "mazurka"],
    ["air", null],
    ["song", null],
  ])("R:%s", (rhythm, dance) => {
    const tune = tuneOf(`X:1\nT:A tune of ours\nR:${rhythm}\nK:C\nC|`);
    expect([tune.rhythm, tune.dance]).toEqual([rhythm, dance]);
  });
});
