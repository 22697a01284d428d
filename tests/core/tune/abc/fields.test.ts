import { describe, expect, test } from "vitest";
import { names, tuneOf, words } from "./read.ts";

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
