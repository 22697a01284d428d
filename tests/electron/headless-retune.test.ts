import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { writeLayout } from "../../core/instrument/layout-json.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { within as reedpath } from "./within.ts";

let folder = "";
const inFolder = (name: string) => path.join(folder, name);

/** Readings of a G harp: all 4 cents flat, 4 draw as said. */
const readings = (fourDraw: number | null) => ({
  schema: "reedpath.reed-cents",
  version: 1,
  holes: STANDARD_LAYOUT.holes.map((_, n) => ({ blow: -4, draw: n === 3 ? fourDraw : -4 })),
});

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-retune-"));
  writeFileSync(inFolder("fallen.json"), JSON.stringify(readings(-130)));
  writeFileSync(inFolder("gap.json"), JSON.stringify(readings(null)));
  writeFileSync(inFolder("words.json"), "not readings");
  const holes = STANDARD_LAYOUT.holes.map((hole, n) => (n === 6 ? { ...hole, draw: null } : hole));
  writeFileSync(
    inFolder("lacks.json"),
    writeLayout({ ...STANDARD_LAYOUT, id: "lacks", name: "lacks", holes }),
  );
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const FILES = /^[\w/]+\.(?:json|html)$/;

/** The command within the test's own process; names of files are of the test's folder. */
const retune = (...args: readonly string[]) =>
  reedpath("retune", ...args.map((arg) => (FILES.test(arg) ? inFolder(arg) : arg)));

async function jsonOf(...args: readonly string[]) {
  const { status, stdout, stderr } = await retune(...args);
  expect(stderr).toBe("");
  expect(status).toBe(0);
  return JSON.parse(stdout);
}

interface Reed {
  readonly hole: number;
  readonly breath: string;
  readonly work: string;
  readonly changeCents: number;
}
const workOf = ({ reeds }: { readonly reeds: readonly Reed[] }) =>
  reeds
    .filter(({ work }) => work !== "leave")
    .map(({ hole, breath, work, changeCents }) => `${hole} ${breath} ${work} ${changeCents}`);

describe("retune", () => {
  test("prints the way from one harp to another, reed by reed", async () => {
    const printed = await jsonOf(
      ...["--from", "standard", "--from-key", "C", "--to", "raised 3-blow with raised 4ths", "--to-key", "C"],
    );
    expect([printed.schema, printed.version]).toEqual(["reedpath.retuning", 1]);
    expect(printed.caution).toMatch(/eye protection.*leaded solder.*qualified repairer/);
    // Fact sheet, section 1 [F 1]: 3 blow G4 to A4, 5 and 9 draw F to F#.
    expect(workOf(printed)).toEqual(["3 blow raise 200", "5 draw raise 100", "9 draw raise 100"]);
    expect(printed.reeds).toHaveLength(20);
    expect(printed.reeds[4]).toMatchObject({
      noteNow: "G4",
      noteWanted: "A4",
      nowHz: 391.995,
      wantedHz: 440,
    });
    expect(printed.reeds[9]).toMatchObject({ noteNow: "F5", noteWanted: "F#5" });
    expect(printed.passes.map(({ restDays }: { restDays: number }) => restDays)).toEqual([14, 7, 0]);
    expect(printed).toMatchObject({ totalCents: 400, largestCents: 200, worked: 3, swapped: 0, sheet: null });
  });

  test("takes registers, temperament, A and limits of either harp", async () => {
    const printed = await jsonOf(
      ...[
        "--from-key",
        "D",
        "--from-register",
        "low",
        "--to",
        "country",
        "--to-key",
        "E",
        "--to-register",
        "low",
      ],
      ...["--a4", "442", "--temperament", "just-first-position", "--most-semitones", "1", "--passes", "4"],
    );
    expect(printed.from).toMatchObject({ keyNote: 50, a4: 440 });
    expect(printed.to).toMatchObject({
      keyNote: 52,
      a4: 442,
      temperament: { scheme: "just-first-position" },
    });
    expect(printed.passes).toHaveLength(4);
    // [calc] Two semitones and 7.85 cents for A 442: beyond one semitone every reed is swapped.
    expect(printed.reeds[0].changeCents).toBe(207.85);
    expect(printed.swapped).toBe(20);
    expect(printed.reeds[0].donor).toMatchObject({ key: "E", register: "low", changeCents: 7.85 });
  });

  test("goes by readings, and replaces a reed that has fallen", async () => {
    const printed = await jsonOf(
      ...["--from-key", "G", "--to", "standard", "--to-key", "G", "--measured", "fallen.json"],
    );
    const four = printed.reeds.find((reed: Reed) => reed.hole === 4 && reed.breath === "draw");
    expect(four).toMatchObject({
      work: "swap",
      why: "fallen by itself",
      measuredOffCents: -130,
      donor: { name: "G harp", changeCents: 0 },
    });
    expect(printed.worked).toBe(20);
    // What was measured counts from what the reed should sound: a pure third lies at -13.69 [section 3].
    const just = await jsonOf(
      ...["--from-key", "G", "--to", "standard", "--to-key", "G", "--measured", "fallen.json"],
      ...["--from-temperament", "just-first-position"],
    );
    expect(just.reeds[2].measuredOffCents).toBe(9.69);
    expect(just.reeds[2].changeCents).toBe(4);
  });

  test("goes by what `measure` prints", async () => {
    // Fact sheet, section 3: equal temperament from A4 440; 3 cents flat everywhere, 4 draw (A4 on a G harp) 130 flat.
    const pitchOf = (hole: number, breath: "blow" | "draw") =>
      55 + (STANDARD_LAYOUT.holes[hole - 1]?.[breath] ?? 0);
    const reeds = STANDARD_LAYOUT.holes.flatMap((_, n) =>
      (["blow", "draw"] as const).map((breath) => {
        const off = n === 3 && breath === "draw" ? -130 : -4;
        return { hole: n + 1, breath, hz: 440 * 2 ** ((pitchOf(n + 1, breath) - 69 + off / 100) / 12) };
      }),
    );
    const file = { schema: "reedpath.measured-reeds", version: 1, keyNote: 55, reeds };
    writeFileSync(inFolder("measured.json"), JSON.stringify(file));
    const args = ["--from-key", "G", "--to", "standard", "--to-key", "G", "--measured", "measured.json"];
    const printed = await jsonOf(...args);
    const by = (work: string) => printed.reeds.filter((reed: Reed) => reed.work === work).length;
    expect([by("raise"), by("swap")]).toEqual([19, 1]);
    expect(printed.reeds[0].measuredOffCents).toBe(-4);
    expect(printed.reeds[7]).toMatchObject({ hole: 4, breath: "draw", why: "fallen by itself" });
    const { stderr } = await retune(...args, "--from-register", "high");
    expect(stderr).toMatch(/measured\.json: keyNote: another harp was measured/);
  });

  test("takes reeds without a reading as they should sound, if told to", async () => {
    const args = ["--from-key", "G", "--to", "standard", "--to-key", "G", "--measured", "gap.json"];
    const printed = await jsonOf(...args, "--unmeasured", "nominal");
    expect(printed.unmeasured).toEqual([{ hole: 4, breath: "draw" }]);
    expect(printed.worked).toBe(19);
  });

  test("writes the bench sheet: cautions, every reed, blanks, nothing fetched or run", async () => {
    const printed = await jsonOf(
      ...["--from-key", "G", "--to", "country", "--to-key", "G", "--sheet", "out.html", "--paper", "letter"],
    );
    expect(printed.sheet).toEqual({ paper: "letter" });
    const html = readFileSync(inFolder("out.html"), "utf8");
    for (const words of [
      "eye protection",
      "no leaded solder",
      "sharp tools",
      "qualified repairer",
      "Local rules",
    ])
      expect(html).toContain(words);
    // [calc] ten holes, two reeds each.
    for (let hole = 1; hole <= 10; hole++)
      for (const breath of ["blow", "draw"]) expect(html).toContain(`>${hole} ${breath}</td>`);
    expect(html).toContain("size: letter");
    expect(html).toContain("default-src 'none'");
    expect(html).not.toMatch(/<script|https?:/);
  });
});

describe("retune --buy", () => {
  test("tries every harp and shows both measures", async () => {
    const printed = await jsonOf(
      ...["--buy", "--to", "raised-third-blow-with-raised-fourths", "--to-key", "C", "--stock", "standard"],
    );
    expect([printed.schema, printed.version]).toEqual(["reedpath.harps-to-retune", 1]);
    const [choice] = printed.wanted;
    expect([choice.tried, choice.unfit]).toEqual([20, 0]); // [calc] key notes C3 to G4
    // [calc] C: 200 + 100 + 100; Db: seventeen reeds down and 3 blow up a semitone, 5 and 9 draw as they are.
    expect(choice.leastTotal).toMatchObject({ key: "C", totalCents: 400, largestCents: 200, worked: 3 });
    expect(choice.leastLargest).toMatchObject({ key: "Db", totalCents: 1800, largestCents: 100, worked: 18 });
    expect(choice.tradeOff).toHaveLength(2);
    // [calc] Blow of Db: 3 blow up one, nine down one; draw of Db: 5 and 9 as they are, eight down one, or of C: two up one.
    expect(choice.twoPlates).toEqual([
      expect.objectContaining({
        totalCents: 1200,
        largestCents: 100,
        blow: expect.objectContaining({ key: "Db" }),
      }),
    ]);
  });

  test("says what a whole set is made of, the player's own harps first", async () => {
    const printed = await jsonOf(
      ...["--buy", "--to", "country", "--to-keys", "G, low F, D", "--stock", "standard"],
      ...["--owned", "standard D, standard C"],
    );
    expect(printed.set).toMatchObject({ by: "total", totalCents: 300, largestCents: 100 }); // [calc] 3 x 100
    expect(printed.set.madeOf.map(({ from, name }: Record<string, string>) => `${from} ${name}`)).toEqual([
      "bought G harp",
      "bought low F harp",
      "owned D harp",
    ]);
    expect(printed.set.toBuy.map(({ name }: { name: string }) => name)).toEqual(["G harp", "low F harp"]);
  });
});

describe("bad input", () => {
  const TO = ["--to", "country", "--to-key", "G"];
  test.each([
    [[], /--to is missing/],
    [TO, /--from-key is missing/],
    [["--to", "country", "--from-key", "G"], /--to-key is missing/],
    [["--to", "moon", "--to-key", "G", "--from-key", "G"], /--to "moon" is not known; there is standard, /],
    [[...TO, "--from", "moon", "--from-key", "G"], /--from "moon" is not known/],
    [[...TO, "--from-key", "H"], /--from-key "H" is not a key; there are G, /],
    [["--to", "country", "--to-key", "H", "--from-key", "G"], /--to-key "H" is not a key/],
    [[...TO, "--from-key", "A", "--from-register", "low"], /--from-register low: there is no low A/],
    [[...TO, "--from-key", "G", "--from", "solo-12"], /solo, 12 holes has 12 holes, but country .* has 10/],
    [[...TO, "--from-key", "G", "--from", "lacks.json"], /hole 7, draw: country .* wants a reed there/],
    [[...TO, "--from-key", "G", "--measured", "gap.json"], /no reading of 4 draw: measure them/],
    [[...TO, "--from-key", "G", "--measured", "words.json"], /words\.json: not JSON/],
    [[...TO, "--from-key", "G", "--measured", "nowhere.json"], /nowhere\.json: there is no such file/],
    [[...TO, "--from-key", "G", "--passes", "2"], /--passes must be a whole number from 3 to 6/],
    [[...TO, "--from-key", "G", "--tolerance", "0"], /--tolerance must be a number from 0\.5 to 20/],
    [[...TO, "--from-key", "G", "--temperament", "moon"], /--temperament "moon" is not known/],
    [[...TO, "--from-key", "G", "--by", "total"], /--by belongs to --buy/],
    [
      [...TO, "--from-key", "G", "--measured", "fallen.json", "--sheet", "fallen.json"],
      /is what the plan is made of/,
    ],
    [[...TO, "--from-key", "G", "--sheet", "no/such/folder.html"], /--sheet .*no\/such\/folder\.html: /],
    [["--buy", ...TO, "--from", "standard"], /--from says what is retuned, but --buy looks for that/],
    [["--buy", "--to", "country"], /--to-key or --to-keys is missing/],
    [["--buy", "--to", "country", "--to-keys", "G, low A"], /--to-keys: "low A" is no key harps are made in/],
    [["--buy", ...TO, "--to-keys", "G"], /both say which keys/],
    [["--buy", ...TO, "--stock", "moon"], /--stock "moon" is not known/],
    [["--buy", ...TO, "--stock", "solo-12"], /no harp of the 20 that can be bought has the 10 holes/],
    [["--buy", ...TO, "--by", "price"], /--by must be one of total, largest/],
    [["--buy", ...TO, "--owned", "standard H"], /--owned: "standard H" is no harp/],
  ])("%j is refused in one line, with exit status 2 and nothing written", async (args, reason) => {
    const before = readdirSync(folder).sort();
    const { status, stdout, stderr } = await retune(...args);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(reason);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect(stderr).not.toMatch(/did not expect/);
    expect(readdirSync(folder).sort()).toEqual(before);
    expect(existsSync(inFolder("no"))).toBe(false);
  });
});
