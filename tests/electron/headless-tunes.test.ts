import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { writeMidi } from "../../core/tune/write-midi.ts";
import { writeMusicXml } from "../../core/tune/write-musicxml.ts";
import { sheetHtml } from "../../electron/commands/sheet-html.ts";
import { notesOf, tuneOf } from "../support/any-tune.ts";
import { begin, note, scoreOfParts } from "../support/musicxml.ts";
import { reedpathIn } from "./run-program.ts";
import { within } from "./within.ts";

const ROOT = path.join(import.meta.dirname, "..", "..");
const TRADITIONAL = path.join(ROOT, "assets", "tunes", "traditional.abc");
const BAND = path.join(ROOT, "assets", "tunes", "village-band.abc");
let folder = "";

const SMALL = `X:4
T:Four Notes
R:reel
M:4/4
L:1/8
K:Ador
"Am"A2 B2 c2 d2 | e8 |]
`;
const SCALE = "X:1\nT:Scale\nM:4/4\nL:1/8\nK:C\nC2 D2 E2 F2 | G2 A2 B2 c2 |]\n";
const BROKEN = `${SMALL}
X:5
T:Five Notes
M:4/4
K:Q
A2 B2|]
`;

/** Notes so close, with ties, chords and grace notes, that abc2svg says of the second line it is shrunk too much. */
const WIDE_LINES = String.raw`|: (3!breath!A,/!breath![=B^b']/"D7"[G,_b']/ | (3{=E_C,b'}G,"Bb/D"!breath![_d^a].!breath!G (3{g'^f}"D7"B,=B,-"F#m7"B, "D7"[=b=c']3/-"Bb/D"!breath![bc']/ | (3:2:2"Am"!breath![C,=a]2"D7"[=E,_e] (3{g_g'}"F#m7"_A,"Em"!breath!_G"G"[B^c']- "Am"!breath![Bc']/=C/ :|
w:\-1' \-2' \-3' \-4' \-5' \-6' \-7' \-8' * \-9' * \-10' \-1' \-2' \-3' \-4' * \-5'
_F,/d/ | {D,E}"Bb/D"!breath![=Ef']/"Em"^E3/ "D7"f3/"G"C/ (3:2:2"D7"[=E_e]2-"F#m7"!breath![=E_e] | (3"Am"[=eg]"D7"[_ec'][D,^D] (3"Bb/D"!breath!_C"Am"[F=d']-"D7"[Fd'] "F#m7"_F-"Am"F | [g_c']"Bb/D"!breath!^E (3"Am"=C"G"=b"F#m7"[^F,_F]- "Am"[^F,_F]{=E,^dg}!breath!=A | [=A,=a]"G"c (3"Em"^B!breath!a"Bb/D"=e5/ |]
w:\-1' \-2' \-3' \-4' \-5' \-6' \-7' * \-8' \-9' \-10' \-1' \-2' * \-3' * \-4' \-5' \-6' \-7' \-8' * \-9' \-10' \-1' \-2' \-3' \-4'`;

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-tunes-"));
  const made = tuneOf([{ notes: notesOf(["G4", 4], ["A4", 4]) }]);
  const files: Readonly<Record<string, string | Uint8Array>> = {
    "small.abc": SMALL,
    "broken.abc": BROKEN,
    "no-tune.abc": "nothing but words\n",
    "unlike-its-name.abc": writeMidi(made),
    "small.musicxml": writeMusicXml(made),
    "cut.musicxml": writeMusicXml(made).slice(0, 300),
    "sound.abc": new Uint8Array([...new TextEncoder().encode("RIFF"), 0, 0, 0, 0, 0, 0, 0, 0]),
    "scale.abc": SCALE,
    "blow-pin.json": '[{"written": 4, "tab": "3"}]',
    "draw-pin.json": '[{"written": 4, "tab": "-2"}]',
    "wrong-pins.json": '[{"written": 4, "tab": "4"}]',
    "far-pins.json": '[{"written": 99, "tab": "-4"}]',
    "weights.json": '{"breathChange": 20}',
    "wrong-weights.json": '{"breathChange": -1}',
  };
  for (const [name, content] of Object.entries(files)) writeFileSync(path.join(folder, name), content);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const reedpath = reedpathIn(() => folder);

const at = (name: string) => path.join(folder, name);

async function jsonOf(...args: readonly string[]) {
  const { status, stdout, stderr } = await within(...args);
  expect(stderr).toBe("");
  expect(status).toBe(0);
  return JSON.parse(stdout);
}

/** One line naming the fault, and nothing else. */
async function refusalOf(...args: readonly string[]): Promise<string> {
  const { status, stdout, stderr } = await within(...args);
  expect(status).toBe(2);
  expect(stdout).toBe("");
  expect(stderr).toMatch(/^reedpath: [^\n]+\n$/);
  return stderr.trim().replace(/^reedpath: /, "");
}

describe("as programs", () => {
  test.each([
    ["tune", ["small.abc"], "reedpath.tune"],
    ["path", ["small.abc", "--key", "G"], "reedpath.path"],
    ["fit", ["small.abc", "--layouts", "standard"], "reedpath.fit"],
    ["own", ["small.abc", "--layouts", "standard"], "reedpath.own"],
    ["sheet", ["small.abc", "program.html", "--key", "G"], "reedpath.sheet"],
  ])("%s prints its JSON", async (name, args, schema) => {
    const { status, stdout, stderr } = await reedpath(name, ...args);
    expect(stderr).toBe("");
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ schema, version: 1 });
  });

  test("bad input ends with status 2, one line, and nothing written", async () => {
    const before = readdirSync(folder);
    const { status, stdout, stderr } = await reedpath("sheet", "no-tune.abc", "none.html");
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toBe(
      "reedpath: no-tune.abc: ABC: there is no tune in this text: a tune begins with a line X: and has a K:\n",
    );
    expect(readdirSync(folder)).toEqual(before);
  });
});

describe("tune", () => {
  test("prints title, key, metre, tempo and every note with its seconds", async () => {
    const printed = await jsonOf("tune", at("small.abc"));
    // [P] A reel's usual tempo counts minims; [calc] a crotchet is half of one.
    const crotchet = 60 / printed.tempo.bpm / 2;
    expect(printed).toMatchObject({
      fileKind: "ABC",
      number: 4,
      title: "Four Notes",
      key: "A dorian",
      metre: "4/4",
      tempo: { noteValue: "1/2", from: "dance" },
    });
    expect(printed.notes.map((note: { name: string }) => note.name)).toEqual(["A4", "B4", "C5", "D5", "E5"]);
    expect(printed.notes[2].startSeconds).toBeCloseTo(2 * crotchet, 5);
    expect(printed.notes[4].lengthSeconds).toBeCloseTo(4 * crotchet, 5);
    expect(printed.notes[0]).toMatchObject({ line: 7, column: 5 });
    expect(printed.bars).toHaveLength(2);
    expect(printed.chords[0]).toMatchObject({ symbol: "Am", atSeconds: 0 });
  });

  test("tells the kind of a file by what is in it", async () => {
    const midi = await jsonOf("tune", at("unlike-its-name.abc"), "--grid", "1/16", "--mode", "dorian");
    // [calc] No sharps or flats: D dorian.
    expect(midi).toMatchObject({
      fileKind: "MIDI",
      key: "D dorian",
      midi: { grid: "1/16", largestShiftMs: 0 },
    });
    expect((await jsonOf("tune", at("small.musicxml"))).fileKind).toBe("MusicXML");
  });

  test("picks a tune by its number, and tells those left out", async () => {
    expect((await jsonOf("tune", TRADITIONAL, "--number", "3")).title).toBe("Cherish the Ladies");
    const { title, leftOut } = await jsonOf("tune", at("broken.abc"));
    expect(title).toBe("Four Notes");
    expect(leftOut).toHaveLength(1);
    expect(leftOut[0]).toMatch(/broken\.abc: tune 5 \(Five Notes\), line 12, column \d+: /);
  });

  test.each([
    [["missing.abc"], /missing\.abc: there is no such file/],
    [["no-tune.abc"], /no-tune\.abc: ABC: there is no tune in this text/],
    [["sound.abc"], /sound\.abc: this is neither ABC nor MusicXML nor MIDI/],
    [["cut.musicxml"], /cut\.musicxml: MusicXML: line \d+, column \d+: /],
    [["broken.abc", "--number", "5"], /broken\.abc: tune 5 \(Five Notes\), line 12, column \d+: /],
    [["small.abc", "--number", "7"], /small\.abc: there is no tune 7; there is 4/],
    [["small.abc", "--number", "x"], /--number must be a whole number/],
    [["small.abc", "--track", "1"], /--track goes with MIDI, and .*small\.abc is ABC/],
    [["unlike-its-name.abc", "--voice", "2"], /--voice goes with ABC and MusicXML, and .* is MIDI/],
    [["unlike-its-name.abc", "--track", "9"], /MIDI: there is no track 9; there are 0 to/],
    [["unlike-its-name.abc", "--grid", "1/5"], /--grid must be one of 1\/8, /],
    [["unlike-its-name.abc", "--upbeat", "17"], /--upbeat must be a number from 0 to 16/],
    [["unlike-its-name.abc", "--mode", "blue"], /--mode must be one of major, dorian, /],
    [["small.abc", "--key", "G"], /no option --key; there are --number/],
  ])("refuses %j", async ([name = "", ...options], reason) => {
    expect(await refusalOf("tune", at(name), ...options)).toMatch(reason);
  });

  test("of a file whose first tune is broken says so instead of taking the next", async () => {
    writeFileSync(at("first-broken.abc"), BROKEN.replace("K:Ador", "K:Q"));
    expect(await refusalOf("tune", at("first-broken.abc"))).toMatch(
      /tune 4 \(Four Notes\), line 6, column \d+: /,
    );
  });
});

describe("--part and --voice of a score", () => {
  const inVoice = (name: string, voice: string) => note(name, 8, `<voice>${voice}</voice>`);
  const both = `${inVoice("D5", "1")}<backup><duration>8</duration></backup>${inVoice("G4", "2")}`;
  const parts = scoreOfParts([
    ["P1", "Fiddle", begin(both)],
    ["P2", "Flute", begin(note("B4", 8))],
  ]);

  test("choose the line that is read, by the part's name or id", async () => {
    writeFileSync(at("parts.musicxml"), parts);
    const namesOf = async (...options: readonly string[]) =>
      (await jsonOf("tune", at("parts.musicxml"), ...options)).notes.map(
        ({ name }: { name: string }) => name,
      );
    expect(await namesOf()).toEqual(["D5"]);
    expect(await namesOf("--part", "Flute")).toEqual(["B4"]);
    expect(await namesOf("--part", "P1", "--voice", "2")).toEqual(["G4"]);
  });

  test.each([
    [["parts.musicxml", "--part", "Drum"], /no part is called "Drum"; there are "Fiddle", "Flute"$/],
    [["parts.musicxml", "--voice", "3"], /no voice of the part is called "3"; there are "1", "2"$/],
    [["parts.musicxml", "--part", "P2", "--voice", "2"], /no voice .* "2"; there is "1"$/],
    [["small.abc", "--part", "P1"], /--part goes with MusicXML, and .*small\.abc is ABC$/],
    [["unlike-its-name.abc", "--part", "P1"], /--part goes with MusicXML, and .* is MIDI$/],
  ])("refuses %j", async ([name = "", ...options], reason) => {
    writeFileSync(at("parts.musicxml"), parts);
    expect(await refusalOf("path", at(name), ...options)).toMatch(reason);
  });
});

describe("--voice that is in no tune", () => {
  const TWO = "X:1\nT:Two Fiddles in the Hall\nM:2/4\nL:1/8\nK:G\nV:high\nGB dB|gd BG|\nV:low\nG2 D2|G4|\n";

  test.each([
    ["tune", []],
    ["path", []],
    ["sheet", ["two.html"]],
    ["fit", []],
    ["own", []],
  ])("is named by %s with the voices there are", async (name, more) => {
    writeFileSync(at("two.abc"), TWO);
    const words = await refusalOf(name, at("two.abc"), ...more.map(at), "--voice", "middle");
    expect(words).toMatch(
      /two\.abc: tune 1 \(Two Fiddles in the Hall\), line 1, column 1: no voice is called "middle"; there are "high", "low"$/,
    );
    expect(existsSync(at("two.html"))).toBe(false);
  });

  test("leaves that tune alone out of a repertoire, and says so", async () => {
    writeFileSync(at("three.abc"), `${SCALE}\n${TWO.replace("X:1", "X:2")}`);
    const { tunes, leftOut } = await jsonOf(
      "fit",
      at("three.abc"),
      "--layouts",
      "standard",
      "--voice",
      "low",
    );
    expect(tunes).toMatchObject([{ number: 2, notes: 3 }]); // [calc] a crotchet twice and a minim
    expect(leftOut).toEqual([
      expect.stringMatching(/tune 1 \(Scale\), .*: no voice is called "low"; the tune has but one/),
    ]);
  });
});

describe("path", () => {
  const tabs = (printed: { notes: { tab: string | null }[] }) =>
    printed.notes.map((note) => note.tab).join(" ");

  test("gives every note of a scale the reed a C harp has it on", async () => {
    const printed = await jsonOf("path", at("scale.abc"), "--octaves", "0");
    // trade-facts section 1, the standard layout: C4 is hole 1 blow and G4 both 2 draw and 3 blow, [calc] one breath to A4.
    expect(tabs(printed)).toMatch(/^1 -1 2 -2'' (-2|3) -3'' -3 4$/);
    expect(printed).toMatchObject({ position: 1, octaves: 0, missing: [] });
    expect((await jsonOf("path", at("scale.abc"), "--octaves", "1")).notes[0]).toMatchObject({
      tab: "4",
      midi: 72,
    });
  });

  test("chooses the key of the harp by the position", async () => {
    // [calc] A dorian in third position: two fifths under A is G; in second it is D.
    const third = await jsonOf("path", at("small.abc"), "--position", "3");
    expect([third.harp.key, third.position]).toEqual(["G", 3]);
    expect((await jsonOf("path", at("small.abc"), "--position", "2")).harp.key).toBe("D");
    const low = await jsonOf("path", at("small.abc"), "--position", "2", "--register", "low");
    expect([low.harp.key, low.harp.register]).toEqual(["D", "low"]);
  });

  test("keeps a pin, and tells what every other way would cost", async () => {
    // trade-facts section 1: G4 on a C harp is 3 blow as well as 2 draw.
    const scale = [at("scale.abc"), "--octaves", "0"];
    const { cost, notes } = await jsonOf("path", ...scale, "--alternatives", "yes");
    const ways: readonly { tab: string; cost: number; more: number }[] = notes[4].alternatives;
    expect(ways.map((way) => way.tab).sort()).toEqual(["-2", "3"]);
    expect(ways[0]).toMatchObject({ tab: notes[4].tab, more: 0 });
    for (const [file, tab] of [
      ["blow-pin.json", "3"],
      ["draw-pin.json", "-2"],
    ] as const) {
      const pinned = await jsonOf("path", ...scale, "--pins", at(file));
      expect(pinned.notes[4].tab).toBe(tab);
      expect(pinned.cost - cost).toBeCloseTo(ways.find((way) => way.tab === tab)?.more ?? Number.NaN, 6);
    }
  });

  test("obeys the player's own weights", async () => {
    const usual = await jsonOf("path", TRADITIONAL, "--key", "G");
    const dear = await jsonOf("path", TRADITIONAL, "--key", "G", "--weights", at("weights.json"));
    expect(dear.cost).toBeGreaterThan(usual.cost);
  });

  test("names what the harp lacks, and the octaves that would help", async () => {
    const printed = await jsonOf("path", at("scale.abc"), "--bends", "no", "--octaves", "0");
    // trade-facts section 1: without bends a standard C harp lacks F4 and A4.
    expect(printed.missing.map((one: { midi: number }) => one.midi)).toEqual([65, 69]);
    expect(printed.betterShifts[0]).toEqual({ semitones: 12, missing: 0 });
  });

  test.each([
    [["--key", "H"], /--key "H" is not a key/],
    [["--position", "13"], /--position must be a whole number from 1 to 12/],
    [["--position", "2", "--key", "G"], /--key and --position both say which harp/],
    [["--octaves", "9"], /--octaves must be a whole number from -3 to 3/],
    [["--even", "perhaps"], /--even must be one of yes, no/],
    [["--pins", "pins.json"], /pins\.json: there is no such file/],
    [["--layout", "none"], /^--layout "none" is not known/],
  ])("refuses %j", async (options, reason) => {
    expect(await refusalOf("path", at("small.abc"), ...options)).toMatch(reason);
  });

  test("refuses pins and weights with their place in the file", async () => {
    const small = [at("scale.abc"), "--octaves", "0"];
    expect(await refusalOf("path", ...small, "--pins", at("wrong-pins.json"))).toMatch(
      /wrong-pins\.json: the pin of written note 4: this reed action does not sound the note/,
    );
    expect(await refusalOf("path", ...small, "--pins", at("far-pins.json"))).toMatch(
      /far-pins\.json: pin 1: written must be the number of a note as written, which 99 is not/,
    );
    expect(await refusalOf("path", ...small, "--pins", at("small.abc"))).toMatch(/small\.abc: not JSON/);
    expect(await refusalOf("path", ...small, "--weights", at("wrong-weights.json"))).toMatch(
      /wrong-weights\.json: weight breathChange must be a number from 0 to 100, not -1/,
    );
  });
});

describe("fit", () => {
  test("finds for each tune the harp it lies best on", async () => {
    const printed = await jsonOf("fit", TRADITIONAL, BAND, "--layouts", "standard", "--best", "1");
    expect(printed.harpsTried).toBe(12);
    // [calc] 33 traditional and 8 of the demo's band.
    expect(printed.tunes).toHaveLength(41);
    // The notes of the first, in G, are all plain on a G harp: nothing can be missing or bent.
    expect(printed.tunes[0].best[0]).toMatchObject({
      key: "G",
      position: 1,
      missing: 0,
      bent: 0,
      exact: true,
    });
    expect(printed.harps.find((one: { key: string }) => one.key === "G").playable).toBeGreaterThan(0);
  });

  test.each([
    [[], /expected FILE…, got nothing/],
    [["small.abc", "--layouts", "none"], /--layouts "none" is not known/],
    [["small.abc", "--keys", "G,H"], /--keys: "H" is not a key/],
    [["small.abc", "--keys", ","], /--keys names nothing/],
    [["small.abc", "--registers", "deep"], /--registers: "deep" is none/],
    [["small.abc", "--keys", "A", "--registers", "high"], /no harp is made in A high/],
    [["small.abc", "--best", "0"], /--best must be a whole number from 1/],
  ])("refuses %j", async ([name, ...options], reason) => {
    expect(await refusalOf("fit", ...(name === undefined ? [] : [at(name)]), ...options)).toMatch(reason);
  });
});

describe("own", () => {
  test("finds the fewest harps, what each adds, and what the limits rule out", async () => {
    const printed = await jsonOf("own", TRADITIONAL, "--layouts", "standard", "--most-bent", "0");
    const played = 33 - printed.unplayable.length;
    expect(printed.provedSmallest).toBe(true);
    expect(printed.oneByOne.at(-1).tunes).toBe(played);
    expect(printed.bestOfSize).toHaveLength(printed.smallest.length - 1);
    expect(printed.limits).toEqual({ bends: true, overbends: false, mostBent: 0 });
  });

  test("counts the harps owned already", async () => {
    const { smallest } = await jsonOf("own", BAND, "--layouts", "standard");
    const owned = smallest.map((one: { key: string }) => `standard ${one.key}`).join(", ");
    const again = await jsonOf("own", BAND, "--layouts", "standard", "--owned", owned);
    expect(again.smallest).toEqual([]);
    expect(again.alreadyPlayed + again.unplayable.length).toBe(8);
  });

  test.each([
    [["--owned", "standard H"], /--owned: "standard H" is no harp/],
    [["--owned", "G"], /--layout "" is not known/],
    [["--most-bent", "2"], /--most-bent must be a number from 0 to 1/],
  ])("refuses %j", async (options, reason) => {
    expect(await refusalOf("own", at("small.abc"), ...options)).toMatch(reason);
  });
});

describe("sheet", () => {
  test("is a page of its own: nothing is fetched or run, and the paper is as asked", async () => {
    for (const [paper, size] of [
      ["a4", "size: A4 portrait"],
      ["letter", "size: letter portrait"],
    ] as const) {
      const out = at(`${paper}.html`);
      expect((await jsonOf("sheet", at("small.abc"), out, "--key", "G", "--paper", paper)).paper).toBe(paper);
      const html = readFileSync(out, "utf8");
      expect(html).toContain(size);
      expect(html).toContain("Four Notes");
      expect(html).not.toMatch(/<script|<link|@import|\bon\w+=|(src|href)="(?!#)/i);
      // Names of namespaces are no addresses.
      expect(html.replace(/xmlns(:\w+)?="[^"]*"/g, "")).not.toMatch(/https?:/);
    }
  });

  test("whose lines are too wide even at their closest is drawn smaller instead of being cut at the edge", () => {
    const scaled = (music: string) => {
      const html = sheetHtml("Wide", `X:1\nT:Wide\nM:3/4\nL:1/8\nQ:1/4=47\nK:Bbmix\n${music}\n`, "a4");
      return Number(/class="g" transform="scale\(([\d.]+)\)"/.exec(html)?.[1] ?? 1);
    };
    expect(scaled("B2 c2 d2 |]\nw:3 \\-4 5")).toBe(1);
    expect(scaled(WIDE_LINES)).toBeLessThan(1);
  });

  test("a title of any signs stays text", async () => {
    writeFileSync(at("signs.abc"), SMALL.replace("Four Notes", 'Four <b>Notes</b> & "more"'));
    await jsonOf("sheet", at("signs.abc"), at("signs.html"), "--key", "G");
    expect(readFileSync(at("signs.html"), "utf8")).not.toContain("<b>");
  });

  test.each([
    [["small.abc", "x.html", "--paper", "a5"], /--paper must be one of a4, letter, not "a5"/],
    [["small.abc"], /expected FILE OUT\.html/],
    [["small.abc", "nowhere/x.html"], /there is no such file/],
    [["small.abc", "small.abc"], /small\.abc: is the tune itself/],
    [["broken.abc", "x.html", "--number", "5"], /tune 5 \(Five Notes\), line 12/],
  ])("refuses %j and writes nothing", async (args, reason) => {
    const words = args.map((word, place) => (place < 2 && !word.startsWith("-") ? at(word) : word));
    expect(await refusalOf("sheet", ...words)).toMatch(reason);
    expect(existsSync(at("x.html"))).toBe(false);
    expect(readFileSync(at("small.abc"), "utf8")).toBe(SMALL);
  });
});
