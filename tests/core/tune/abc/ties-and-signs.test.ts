import { describe, expect, test } from "vitest";
import { ornamentOf } from "../../../../core/tune/abc/decorations.ts";
import { readAbc, voicesOfAbc } from "../../../../core/tune/abc/read-abc.ts";
import { splitAbc } from "../../../../core/tune/abc/split-abc.ts";
import { isChordSymbol, waySign } from "../../../../core/tune/abc/way-signs.ts";
import { music, names, onsets, quavers, tuneOf, words } from "./read.ts";

describe("ties and slurs (ABC 2.1, 4.11) [F 47]", () => {
  test.each([
    ["c2-c2 d4|", [4, 4]],
    ["c4 d4-|d4 c4|", [4, 8, 4]],
    ["c4-c4-|c8|", [16]],
    ["c2 - c2 d4|", [4, 4]],
    ["c2.-c2 d4|", [4, 4]],
    ["c4-[M:6/8]c4|", [8]],
    ["c4-\nc4|", [8]],
    ["c2-!trill!c2|", [4]],
    ["c2>-c2|", [4]],
  ])("%s", (written, lengths) => {
    expect(quavers(music(written))).toEqual(lengths);
  });

  test("join the same pitch only, and never over a rest", () => {
    expect(quavers(music("c2-d2 d2-z2 d2|"))).toEqual([2, 2, 2, 2]);
    expect(quavers(music("c2-^c2|"))).toEqual([2, 2]);
  });

  test("(c c) is a slur: two notes", () => {
    expect(quavers(music("(c2 c2) .(d (e f)) g|"))).toEqual([2, 2, 1, 1, 1, 1]);
  });

  test("lead into a repeat: both what begins it and what follows it may be the second note", () => {
    // [calc] second time: the tied crotchet and the note after the repeat are one, 4 + 8.
    const tune = music("|:c4 d4-:|d8|]");
    expect(names(tune)).toBe("C5 D5 C5 D5");
    expect(quavers(tune)).toEqual([4, 4, 4, 12]);
    expect(quavers(music("|:c4 d4 c4-:|d4|]"))).toEqual([4, 4, 8, 4, 4, 4]);
  });

  test("lead into every ending, with their accidental", () => {
    const tune = music("|:c4 ^f4-|1 f8:|2 f4 g4|]");
    expect(names(tune)).toBe("C5 F#5 C5 F#5 G5");
    expect(quavers(tune)).toEqual([4, 12, 4, 8, 4]);
  });

  test("a tie with no note before it means nothing", () => {
    expect(words(music("|-c2 c2|"))).toEqual(['"-" means nothing here and is left out']);
    expect(quavers(music("c2--c2|"))).toEqual([4]);
  });
});

describe("grace notes (4.12) and decorations (4.14) are ornaments, never notes [F 47]", () => {
  test("grace notes belong to the note they lead to, and take none of its time", () => {
    const tune = tuneOf("X:1\nT:A tune of ours\nL:1/8\nK:D\nA{gf}B{/c'}c{ge4d}d|\n");
    expect(names(tune)).toBe("A4 B4 C#5 D5");
    expect(onsets(tune)).toEqual([0, 1, 2, 3]);
    expect(
      tune.notes.map(({ ornaments }) => ornaments.map(({ notes }) => notes.map(({ name }) => name))),
    ).toEqual([[], [["G5", "F#5"]], [["C#6"]], [["G5", "E5", "D5"]]]);
  });

  test.each([
    [".C", "staccato"],
    ["~C", "roll"],
    ["HC", "fermata"],
    ["LC", "accent"],
    ["MC", "lowermordent"],
    ["PC", "uppermordent"],
    ["TC", "trill"],
    ["uC", "upbow"],
    ["vC", "downbow"],
    ["!trill!C", "trill"],
    ["!>!C", "accent"],
    ["!accent!C", "accent"],
    ["!emphasis!C", "accent"],
    ["!mordent!C", "lowermordent"],
    ["!pralltriller!C", "uppermordent"],
    ["!turn!C", "turn"],
    ["!tenuto!C", "tenuto"],
    ["!breath!C", "breath"],
    ["+roll+C", "roll"],
    ["[!slide!CE]", "slide"],
  ])("%s", (written, kind) => {
    const tune = music(`${written}|`);
    expect(tune.notes).toHaveLength(1);
    expect(tune.notes[0]?.ornaments.map((one) => one.kind)).toEqual([kind]);
    expect(tune.remarks).toEqual([]);
  });

  test("several on one note, each in its order; a fermata does not lengthen", () => {
    const tune = music("{g}!trill!HC2 D|");
    expect(tune.notes[0]?.ornaments.map(({ kind }) => kind)).toEqual(["grace", "trill", "fermata"]);
    expect(quavers(tune)).toEqual([2, 1]);
  });

  test("U: gives letters another meaning (4.16), before and within the music", () => {
    const tune = tuneOf(
      "X:1\nT:A tune of ours\nU:k = !slide!\nU:T=!nil!\nL:1/8\nK:C\nkC TD|\nU:n=!turn!\nnE|\n",
    );
    expect(tune.notes.map(({ ornaments }) => ornaments.map(({ kind }) => kind))).toEqual([
      ["slide"],
      [],
      ["turn"],
    ]);
    expect(tune.remarks).toEqual([]);
  });

  test("loudness and fingers are no ornaments, what nobody knows is told", () => {
    const tune = music("!f!C !crescendo(!D !3!E !5!F !nosuch!G|");
    expect(tune.notes.flatMap(({ ornaments }) => ornaments)).toEqual([]);
    expect(words(tune)).toEqual(["the decoration !nosuch! is not known and is left out"]);
    expect(ornamentOf("^trill")).toBe("trill");
  });
});

describe("chords (4.17) [F 47]", () => {
  test("the highest note is the tune's, the others go with it from the lowest", () => {
    const tune = music("[ECG]2 [c]2 [DD]|");
    expect(names(tune)).toBe("G4 C5 D4");
    expect(tune.notes.map(({ chord }) => chord)).toEqual([[60, 64], undefined, undefined]);
  });

  test("a chord is as long as its first note, times the length after it", () => {
    expect(quavers(music("[C2E2G2] [C2E4] [CE]3/2 [C2E2]3 [CE]/|"))).toEqual([2, 2, 1.5, 6, 0.5]);
  });

  test("accidentals within it hold after it", () => {
    expect(names(music("[C^F] F|F|"))).toBe("F#4 F#4 F4");
  });

  test("ties of the whole chord or of its melody note", () => {
    expect(quavers(music("[CE]2-[CE]2|"))).toEqual([4]);
    expect(quavers(music("[CE-]2E2|"))).toEqual([4]);
  });

  test("one that is not closed is told, and its notes are read", () => {
    const tune = music("[CE G|A|");
    expect(names(tune)).toBe("C4 E4 G4 A4");
    expect(words(tune)).toEqual(['"[" means nothing here and is left out']);
  });
});

describe("chord symbols (4.18) and annotations (4.19) [F 47]", () => {
  test("are found over the note they stand before, each time it is played", () => {
    const tune = music('|:"Am"C2 "D7/F#"D2 z2 "G"E2:|');
    expect(tune.chords.map(({ atTicks, symbol }) => [atTicks / 20_160, symbol])).toEqual([
      [0, "Am"],
      [2, "D7/F#"],
      [6, "G"],
      [8, "Am"],
      [10, "D7/F#"],
      [14, "G"],
    ]);
  });

  test.each([
    "A",
    "Am",
    "F#m7",
    "Bb",
    "Gmaj7",
    "Csus4",
    "Ddim",
    "E7#9",
    "D/F#",
    "(G)",
    "G7(b9)",
    "Bø",
    "C°",
    "N.C.",
  ])("%s is a chord", (symbol) => expect(isChordSymbol(symbol)).toBe(true));

  test.each(["Fine", "D.C.", "Coda", "Chorus", "Slowly", "Da Capo", "1st time", "", "Ending", "Begin"])(
    "%j is none",
    (text) => expect(isChordSymbol(text)).toBe(false),
  );

  test("annotations are passed over, words in the place of a chord are told", () => {
    const tune = music('"^over"C "_under"D "<left"E "@5,5 there"F "Slowly"G|');
    expect(tune.chords).toEqual([]);
    expect(words(tune)).toEqual(['the text "Slowly" is no chord and is left out']);
  });

  test("a text that is not closed loses one word, not the music after it", () => {
    const tune = music('C "Am D E|\n"G"F|');
    expect(names(tune)).toBe("C4 D4 E4 F4");
    expect(words(tune)).toEqual(["a text has no closing quotation mark; its first word is left out"]);
  });

  test("words for the way are told from others", () => {
    expect(waySign("D.C. al Fine")).toEqual({ kind: "jump", jump: { to: "beginning", until: "fine" } });
    expect(waySign("^Dal Segno al Coda")).toEqual({ kind: "jump", jump: { to: "segno", until: "coda" } });
    expect(waySign("d.s.")).toEqual({ kind: "jump", jump: { to: "segno", until: "end" } });
    expect(waySign("Fine.")).toEqual({ kind: "fine" });
    expect(waySign("fineness")).toBeNull();
    expect(waySign("Dm")).toBeNull();
  });
});

describe("voices and overlays (7) [F 47]", () => {
  const two =
    "X:1\nT:A tune of ours\nL:1/8\nV:top clef=treble\nV:low octave=-1\nK:C\n[V:top]cd|\n[V:low]EF|\nV:top\ne|\nV:low\nG|\n";

  test("the first is read, and the others are named", () => {
    const tune = tuneOf(two);
    expect(names(tune)).toBe("C5 D5 E5");
    expect(words(tune)).toEqual(["of the voices top, low only top is read"]);
  });

  test("their names can be asked for", () => {
    const pieces = splitAbc(`${two}\n${two.replace(/^V:.*\n/gm, "").replace(/\[V:.*?\]/g, "")}`);
    if (pieces.kind === "unreadable") throw new Error(pieces.reason);
    expect(pieces.tunes.map((piece) => voicesOfAbc(pieces.header, piece))).toEqual([["top", "low"], []]);
  });

  test("any can be chosen, with its own octave", () => {
    expect(names(tuneOf(two, "low"))).toBe("E3 F3 G3");
  });

  test("of a voice that is not there the tune says which there are, and other tunes are read", () => {
    const alone = "X:2\nT:A tune of ours\nV:middle\nK:C\nCD|\n\nX:3\nT:A tune of ours\nK:C\nCD|\n";
    const read = readAbc(`${two}\n${alone}`, { voice: "middle" });
    if (read.kind === "unreadable") throw new Error(read.reason);
    expect(read.tunes.map(({ number }) => number)).toEqual([2]);
    expect(read.bad.map(({ number, place, reason }) => [number, place?.line, reason])).toEqual([
      [1, 1, 'no voice is called "middle"; there are "top", "low"'],
      // [calc] 12 lines, an empty one, 5 and an empty one come before.
      [3, 20, 'no voice is called "middle"; the tune has but one, without a name'],
    ]);
  });

  test("keys, lengths and metres belong to the voice they stand in", () => {
    const text = "X:1\nT:A tune of ours\nL:1/8\nK:C\nV:1\nF|\nV:2\n[K:D][L:1/4]F|\nV:1\nF|\n";
    expect(names(tuneOf(text))).toBe("F4 F4");
    expect(quavers(tuneOf(text, "2"))).toEqual([2]);
    expect(names(tuneOf(text, "2"))).toBe("F#4");
  });

  test("a voice may change within a line", () => {
    const text = "X:1\nT:A tune of ours\nL:1/8\nK:C\nV:1\nV:2\n[V:1]C|D|[V:2]E|F|[V:1]G|\n";
    expect(names(tuneOf(text))).toBe("C4 D4 G4");
    expect(names(tuneOf(text, "2"))).toBe("E4 F4");
  });

  test("parts between the systems hold for every voice", () => {
    const text = "X:1\nT:A tune of ours\nL:1/8\nP:AAB\nK:C\nP:A\nV:1\nC|\nV:2\nE|\nP:B\nV:1\nD|\nV:2\nF|\n";
    expect(names(tuneOf(text))).toBe("C4 C4 D4");
  });

  test("a tune with voices named in the header alone is read whole", () => {
    expect(names(tuneOf("X:1\nT:A tune of ours\nV:1\nV:2\nK:C\nCD|\n"))).toBe("C4 D4");
  });

  test("what is laid over a bar with & is left out with a remark", () => {
    const tune = music("c4 d4 & C8|e8 & E4 F4 :|");
    expect(names(tune)).toBe("C5 D5 E5 C5 D5 E5");
    expect(words(tune)).toContain("the notes laid over the bar with & are left out");
  });
});

describe("places and messages", () => {
  test("notes, remarks and faults know their line and column in the file", () => {
    const tune = tuneOf("Words.\n\nX:1\nT:A tune of ours\nL:1/8\nK:C\nCD [EG]|\n {g}^F? |\n");
    expect(tune.notes.map(({ place }) => [place?.line, place?.column])).toEqual([
      [7, 1],
      [7, 2],
      [7, 4],
      [8, 5],
    ]);
    expect(tune.remarks).toEqual([
      { place: { line: 8, column: 7 }, words: '"?" means nothing here and is left out' },
    ]);
  });

  test("what was written is counted through, however often it is played", () => {
    expect(music("|:C2D2|1 E4:|2 F4|]").notes.map(({ written, bar }) => [written, bar])).toEqual([
      [0, 0],
      [1, 0],
      [2, 1],
      [0, 2],
      [1, 2],
      [3, 3],
    ]);
  });

  test("signs of markup come back as they were written, not as a page would show them", () => {
    const tune = music('C ? "<b>bold</b> & more"D|');
    expect(words(tune)).toEqual(['"?" means nothing here and is left out']);
    expect(words(music('C "b <i> & more"D|'))).toEqual([
      'the text "b <i> & more" is no chord and is left out',
    ]);
  });
});
