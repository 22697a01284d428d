import { readFileSync } from "node:fs";
import path from "node:path";
import fc from "fast-check";
import { SaxesParser } from "saxes";
import { describe, expect, test } from "vitest";
import { stockLayout } from "../../../core/instrument/stock-layouts.ts";
import { dayOfNumber } from "../../../core/progress/practice-day.ts";
import { between } from "../../../renderer/progress/pictures/clip.ts";
import { daysInWords, dayTicks } from "../../../renderer/progress/pictures/day-words.ts";
import { type Drawing, FILE_ROOM, type Shape, wrapped } from "../../../renderer/progress/pictures/drawing.ts";
import { harpDrawing, type ReedReading } from "../../../renderer/progress/pictures/harp-drawing.ts";
import { LIGHT_INKS } from "../../../renderer/progress/pictures/inks.ts";
import { minutesDrawing } from "../../../renderer/progress/pictures/minutes-drawing.ts";
import { pairsDrawing } from "../../../renderer/progress/pictures/pairs-drawing.ts";
import { scaleFor } from "../../../renderer/progress/pictures/scale.ts";
import { svgFile } from "../../../renderer/progress/pictures/svg-file.ts";
import { type TrendPicture, trendDrawing } from "../../../renderer/progress/pictures/trend-drawing.ts";
import { number, valueInWords } from "../../../renderer/progress/pictures/values.ts";
import { shortDay } from "../../../renderer/ui/day-words.ts";

const named = { title: "A picture", description: "What it shows." };
/** 2026-09-01 and so many days after it. */
const day = (after: number) => dayOfNumber(20_697 + after);

const TREND: TrendPicture = {
  ...named,
  unit: "cents",
  signed: false,
  rows: [
    { kind: "first", points: [0, 1, 2].map((n) => ({ day: day(n), value: 16 - n })) },
    { kind: "best", points: [0, 2].map((n) => ({ day: day(n), value: 12 - n })) },
  ],
  band: [0, 1, 2].map((n) => ({ day: day(n), value: 15 - n, low: 14 - n, high: 16 - n })),
};

const layout = stockLayout("standard");
if (layout === null) throw new Error("there is a standard layout");
const HARP = (readings: readonly (readonly [string, ReedReading])[], shows: ReedReading["kind"] = "cents") =>
  harpDrawing({ ...named, layout, shows, readings: new Map(readings) }, FILE_ROOM);

const PAIRS = pairsDrawing(
  {
    ...named,
    from: ["4", "-4"],
    to: ["4", "-4"],
    pairs: [
      { from: "4", to: "-4", notes: 40, troubledShare: 0.3 },
      { from: "-4", to: "4", notes: 3, troubledShare: null },
    ],
  },
  FILE_ROOM,
);

const MINUTES = minutesDrawing(
  { ...named, mondays: [day(6)], practisedMs: new Map([[day(7), 1_800_000]]) },
  FILE_ROOM,
);

const texts = ({ shapes }: Drawing) =>
  shapes.flatMap((shape) => (shape.kind === "text" ? [shape.words] : []));
const textAt = ({ shapes }: Drawing, words: string) => {
  const found = shapes.find((shape) => shape.kind === "text" && shape.words === words);
  if (found?.kind !== "text") throw new Error(`nowhere is written ${words}`);
  return found.at;
};

/** Every element of an XML text with its attributes. */
function elementsOf(xml: string): readonly { readonly name: string; readonly attributes: object }[] {
  const found: { name: string; attributes: object }[] = [];
  const parser = new SaxesParser();
  parser.on("opentag", ({ name, attributes }) => found.push({ name, attributes }));
  parser.on("error", (error) => {
    throw error;
  });
  parser.write(xml).close();
  return found;
}

describe("a picture as a file", () => {
  const all: readonly (readonly [string, Drawing])[] = [
    ["trend", trendDrawing(TREND, FILE_ROOM)],
    ["harp", HARP([["4", { kind: "cents", cents: 12, spreadCents: 4 }]])],
    ["pairs", PAIRS],
    ["minutes", MINUTES],
  ];
  test.each(all)("%s is XML, holds nothing that runs or is fetched, and says its size", (_, drawing) => {
    const { svg, width, height } = svgFile(drawing, ["Better."]);
    const elements = elementsOf(svg);
    expect(elements.length).toBeGreaterThan(10);
    const harmless = ["svg", "title", "desc", "g", "rect", "line", "path", "circle", "text"];
    expect(elements.map(({ name }) => name).filter((name) => !harmless.includes(name))).toEqual([]);
    const attributes = elements.flatMap((one) => Object.entries(one.attributes));
    const foreign = attributes.filter(([name]) => /^on|href|style|class/.test(name));
    expect(foreign).toEqual([]);
    const values = attributes.filter(([name]) => name !== "xmlns").map(([, value]) => String(value));
    expect(values.filter((value) => /url\(|var\(|https?:|NaN|undefined|Infinity/.test(value))).toEqual([]);
    expect(elements[0]?.attributes).toMatchObject({
      width: String(width),
      height: String(height),
      viewBox: `0 0 ${width} ${height}`,
    });
  });

  test("any text comes through, without what XML cannot hold", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 40 }), (title) => {
        const { svg } = svgFile({ ...trendDrawing(TREND, FILE_ROOM), title }, [title]);
        expect(elementsOf(svg)[0]?.name).toBe("svg");
      }),
    );
    const { svg } = svgFile({ ...PAIRS, title: `<b> & "x" '\u0000` }, []);
    expect(svg).toContain("<title>&lt;b&gt; &amp; &quot;x&quot; &apos;\uFFFD</title>");
  });

  test("it has the light inks of the style sheet", () => {
    const css = readFileSync(path.join(import.meta.dirname, "../../../renderer/ui/base.css"), "utf8");
    const light = [...css.matchAll(/--(\w+): light-dark\((#\w+), (#\w+)\)/g)].map(([, name, value]) => [
      name,
      value,
    ]);
    expect(light.length).toBe(7);
    expect(Object.fromEntries(light)).toEqual(LIGHT_INKS);
  });

  test("ink is readable on every tint, in both themes", () => {
    const css = readFileSync(path.join(import.meta.dirname, "../../../renderer/ui/base.css"), "utf8");
    for (const theme of [2, 3]) {
      const inks = new Map(
        [...css.matchAll(/--(\w+): light-dark\((#\w+), (#\w+)\)/g)].map((found) => [found[1], found[theme]]),
      );
      const ink = (name: string) => rgb(inks.get(name) ?? "");
      for (const [fill, depth] of [
        ["look", 0.45],
        ["now", 0.45],
        ["look", 0.22],
        ["now", 0.22],
      ] as const) {
        const tint = ink("paper").map((value, place) => value + depth * ((ink(fill)[place] ?? 0) - value));
        // WCAG 2.2, 1.4.3: 4.5 to 1.
        expect(contrast(ink("ink"), tint), `${fill} ${depth}`).toBeGreaterThanOrEqual(4.5);
      }
      const grey = ink("paper").map((value, place) => value + 0.14 * ((ink("rule")[place] ?? 0) - value));
      expect(contrast(ink("soft"), grey)).toBeGreaterThanOrEqual(4.5);
    }
  });
});

const rgb = (hex: string) => [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
/** WCAG 2.2, relative luminance and contrast ratio. */
function contrast(one: readonly number[], other: readonly number[]): number {
  const luminance = (colour: readonly number[]) => {
    const [r = 0, g = 0, b = 0] = colour
      .map((value) => value / 255)
      .map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const [light = 1, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

describe("the trend", () => {
  const dots = (drawing: Drawing) => drawing.shapes.filter((shape) => shape.kind === "dot");
  const tinted = (drawing: Drawing) =>
    drawing.shapes.filter((shape) => shape.kind === "area" && shape.depth !== undefined);

  test("has a dot for each first attempt, a diamond for each best, and says which is which", () => {
    const drawing = trendDrawing(TREND, FILE_ROOM);
    // [calc] three first attempts and the one of the legend; two best and theirs.
    expect(dots(drawing)).toHaveLength(3 + 1);
    const diamonds = drawing.shapes.filter((shape) => shape.kind === "area" && shape.edge === "look");
    expect(diamonds).toHaveLength(2 + 1);
    expect(texts(drawing)).toEqual(
      expect.arrayContaining(["first attempt of the day", "best of the day", "cents", "1 Sep", "3 Sep"]),
    );
    // [calc] 10 to 16 in steps of at least (16 - 10) / 4 = 1.5, that is 2.
    expect(texts(drawing)).toEqual(expect.arrayContaining(["10", "12", "14", "16"]));
  });

  test("has line and band only where it is not too early", () => {
    // [calc] the band and its sign in the legend.
    expect(tinted(trendDrawing(TREND, FILE_ROOM))).toHaveLength(2);
    const early = trendDrawing({ ...TREND, band: [] }, FILE_ROOM);
    expect(tinted(early)).toHaveLength(0);
    expect(texts(early).join()).not.toMatch(/line may lie/);
  });

  test("higher values lie higher, later days further right", () => {
    const [first, second] = dots(trendDrawing(TREND, FILE_ROOM)).slice(1) as Extract<
      Shape,
      { kind: "dot" }
    >[];
    expect(first?.at.y).toBeLessThan(second?.at.y ?? 0);
    expect(first?.at.x).toBeLessThan(second?.at.x ?? 0);
  });
});

describe("the harp", () => {
  test("blow lies above the holes, draw below, bends further out", () => {
    const drawing = HARP([
      ["4", { kind: "cents", cents: 1.2, spreadCents: 4 }],
      ["-3", { kind: "cents", cents: -2.2, spreadCents: 5 }],
      ["-3''", { kind: "cents", cents: -31, spreadCents: null }],
      ["8'", { kind: "cents", cents: 14, spreadCents: 3 }],
    ]);
    const body = textAt(drawing, "hole").y;
    expect(textAt(drawing, "+1.2").y).toBeLessThan(body);
    expect(textAt(drawing, "+14").y).toBeLessThan(textAt(drawing, "+1.2").y);
    expect(textAt(drawing, "−2.2").y).toBeGreaterThan(body);
    expect(textAt(drawing, "−31").y).toBeGreaterThan(textAt(drawing, "−2.2").y);
    expect(textAt(drawing, "± 4.0").x).toBeGreaterThan(textAt(drawing, "± 5.0").x);
  });

  test("what was not measured is a dash; overbends stand there for who plays some", () => {
    // [calc] 20 reeds and the bends of the standard layout, trade-facts section 2: 8 drawn (1, 2, 3, 1, 1 in holes 1 to 4
    // and 6) and 4 blown (1, 1, 2 in holes 8 to 10).
    const dashes = (drawing: Drawing) => texts(drawing).filter((words) => words === "-").length;
    expect(dashes(HARP([]))).toBe(20 + 8 + 4);
    const over = HARP([["6o", { kind: "right", share: 0.5, notes: 12 }]], "right");
    // [calc] holes 1 to 6 overblow, 7 to 10 overdraw; one of them is known.
    expect(dashes(over)).toBe(20 + 8 + 4 + 10 - 1);
    expect(texts(over)).toEqual(expect.arrayContaining(["50 %", "of 12"]));
  });

  test("held turned round, hole 1 is on the right", () => {
    const picture = { ...named, layout, shows: "cents" as const, readings: new Map<string, ReedReading>() };
    const turned = harpDrawing(picture, { ...FILE_ROOM, mirrored: true });
    expect(textAt(turned, "1").x).toBeGreaterThan(textAt(turned, "10").x);
    const usual = harpDrawing(picture, FILE_ROOM);
    expect(textAt(usual, "1").x).toBeLessThan(textAt(usual, "10").x);
  });

  test("what is labelled 10 cents is in tune, 11 is not", () => {
    const filled = (cents: number) =>
      HARP([["4", { kind: "cents", cents, spreadCents: 1 }]]).shapes.filter(
        (shape) => shape.kind === "area" && shape.fill === "look",
      ).length;
    expect(filled(10.6) - filled(10.4)).toBe(1);
    expect(number(10.4, true)).toBe("+10");
  });
});

describe("pairs and minutes", () => {
  test("a pair has its share and count, or a dash", () => {
    expect(texts(PAIRS)).toEqual(expect.arrayContaining(["30 %", "of 40", "-"]));
    expect(textAt(PAIRS, "30 %").x).toBeGreaterThan(textAt(PAIRS, "-").x);
  });

  test("a day has its minutes, every other a dash", () => {
    // [calc] half an hour; six other days of the week.
    expect(texts(MINUTES).filter((words) => words === "30 min")).toHaveLength(2);
    expect(texts(MINUTES).filter((words) => words === "-")).toHaveLength(6);
    expect(texts(MINUTES)).toContain("7 Sep");
  });
});

describe("scales, days and values", () => {
  test("a scale holds its values in one to seven round steps", () => {
    const values = fc.array(
      fc.integer({ min: -1e5, max: 1e5 }).map((tenths) => tenths / 10),
      { minLength: 1, maxLength: 20 },
    );
    fc.assert(
      fc.property(values, (all) => {
        const { low, high, ticks } = scaleFor(all);
        expect(low).toBeLessThanOrEqual(Math.min(...all));
        expect(high).toBeGreaterThanOrEqual(Math.max(...all));
        expect(ticks.length).toBeGreaterThanOrEqual(2);
        expect(ticks.length).toBeLessThanOrEqual(8);
      }),
    );
    // [calc] (0.97 - 0.62) / 4 = 0.0875, the next round step is 0.1.
    expect(scaleFor([0.62, 0.97], { floor: 0, ceiling: 1 }).ticks).toEqual([0.6, 0.7, 0.8, 0.9, 1]);
  });

  test("days are written short, with the year where it matters", () => {
    expect(shortDay(day(4))).toBe("5 Sep");
    expect(daysInWords(day(0), day(29))).toBe("1 Sep to 30 Sep 2026");
    expect(daysInWords(day(-300), day(0))).toBe("5 Nov 2025 to 1 Sep 2026");
    // [calc] 0, 7, 14, 21, 28 days after the first.
    expect(dayTicks(day(0), day(29), 5)).toHaveLength(5);
    expect(dayTicks(day(0), day(0), 5)).toEqual([day(0)]);
  });

  test("values have their unit", () => {
    expect(valueInWords(0.934, "share")).toBe("93 %");
    expect(valueInWords(-6.44, "cents", true)).toBe("−6.4 cents");
    expect(valueInWords(0.02, "ms", true)).toBe("0 ms");
  });

  test("words are broken at spaces; a polygon at a height", () => {
    expect(wrapped("one two three", 10, 45)).toEqual(["one two", "three"]);
    const square = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
      { x: 0, y: 10 },
    ];
    const cut = between(square, 4, 20);
    expect(cut).toHaveLength(4);
    expect(Math.min(...cut.map(({ y }) => y))).toBe(4);
    expect(between(square, 11, 20)).toEqual([]);
  });
});
