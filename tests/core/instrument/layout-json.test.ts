import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkLayout, readLayout, writeLayout } from "../../../core/instrument/layout-json.ts";
import { STANDARD_LAYOUT, STOCK_LAYOUTS } from "../../../core/instrument/stock-layouts.ts";
import { anyLayout } from "../../support/any-layout.ts";

const FILE = JSON.parse(writeLayout({ ...STANDARD_LAYOUT, id: "my-tuning", name: "my tuning" }));

/** The reason a changed copy of a good file is refused. */
function reasonFor(change: (file: typeof FILE) => unknown): string {
  const read = checkLayout(change(structuredClone(FILE)));
  if (read.kind === "layout") throw new Error("the file was read");
  return read.reason;
}

describe("a layout file", () => {
  test.each(STOCK_LAYOUTS)("gives back $id as it was", (layout) => {
    const read = readLayout(writeLayout(layout));
    expect(read.kind === "layout" && read.layout).toEqual(layout);
  });

  test("gives back any layout, lone and valved reeds included", () => {
    fc.assert(
      fc.property(anyLayout, (layout) => {
        const read = readLayout(writeLayout(layout));
        expect(read.kind === "layout" && read.layout).toEqual(layout);
      }),
    );
  });

  test("may leave out the short name and the keys", () => {
    const { schema, version, name, holes } = FILE;
    const read = checkLayout({ schema, version, name, holes });
    expect(read.kind === "layout" && read.layout.id).toBe("my-tuning");
  });

  test("tells what is unusual without refusing it", () => {
    const file = structuredClone(FILE);
    file.holes[1].draw = 4;
    file.holes[2].draw = 13;
    file.holes[9] = { blow: null, draw: null };
    const read = checkLayout(file);
    expect(read.kind === "layout" && read.warnings.map((warning) => warning.kind)).toEqual([
      "unison",
      "wide gap",
      "no reed",
    ]);
  });

  test("with a stock layout's short name on other reeds takes another one and says so", () => {
    const file = { ...structuredClone(FILE), id: "standard" };
    file.holes[4].draw = 18;
    const read = checkLayout(file);
    expect(read.kind === "layout" && read.layout.id).toBe("standard-changed");
    expect(read.kind === "layout" && read.warnings.map((warning) => warning.kind)).toContain("short name");
  });

  test.each<[string, (file: typeof FILE) => unknown, RegExp]>([
    ["no object", () => [1], /^not a layout: no JSON object$/],
    ["another schema", (file) => ({ ...file, schema: "x" }), /"schema" is not "reedpath.layout"/],
    ["a newer version", (file) => ({ ...file, version: 2 }), /newer version .*layout version 2/],
    ["no version", (file) => ({ ...file, version: undefined }), /^version: must be 1, not nothing$/],
    ["an empty name", (file) => ({ ...file, name: " " }), /^name: must be one line/],
    ["a name of two lines", (file) => ({ ...file, name: "a\nb" }), /^name: must be one line/],
    ["spaces in the short name", (file) => ({ ...file, id: "my tuning" }), /^id: must be lower-case/],
    ["a position key of 12", (file) => ({ ...file, positionKey: 12 }), /^positionKey: .*0 to 11, not 12$/],
    ["no holes", (file) => ({ ...file, holes: [] }), /^holes: a layout has 1 to 16 holes, not 0$/],
    ["17 holes", (file) => ({ ...file, holes: Array(17).fill(file.holes[0]) }), /not 17$/],
    ["a hole that is a number", (file) => changed(file, 3, 7), /^hole 3: must be an object .* not 7$/],
    ["no draw reed named", (file) => changed(file, 3, { blow: 7 }), /^hole 3, draw: is missing; write null/],
    ["half a semitone", (file) => changed(file, 3, { blow: 7, draw: 10.5 }), /^hole 3, draw: .*not 10\.5$/],
    ["a note name", (file) => changed(file, 10, { blow: "C7", draw: 33 }), /^hole 10, blow: .*not "C7"$/],
    [
      "a MIDI number",
      (file) => changed(file, 1, { blow: 72, draw: 2 }),
      /^hole 1, blow: 72 .*MIDI number\?$/,
    ],
    [
      "no reed at all",
      (file) => ({ ...file, holes: [{ blow: null, draw: null }] }),
      /^holes: no hole has a reed$/,
    ],
    [
      "a valve that is none",
      (file) => changed(file, 2, { blow: 4, draw: 7, valved: ["in"] }),
      /^hole 2, valved: .*"in"$/,
    ],
    [
      "a valve on no reed",
      (file) => changed(file, 2, { blow: 4, draw: null, valved: ["draw"] }),
      /^hole 2, valved: names the draw reed/,
    ],
  ])("with %s is refused in a line that says where", (_, change, reason) => {
    expect(reasonFor(change)).toMatch(reason);
  });

  test("that is not JSON is refused in one line", () => {
    const read = readLayout('{"schema":\n\n oops');
    expect(read.kind === "unreadable" && read.reason).toMatch(/^not JSON: /);
    expect(read.kind === "unreadable" && read.reason).not.toContain("\n");
  });
});

function changed(file: typeof FILE, hole: number, to: unknown): unknown {
  file.holes[hole - 1] = to;
  return file;
}

describe("a thousand broken layout files", () => {
  const junk = fc.oneof(
    fc.string(),
    fc.double(),
    fc.constantFrom(true, null, -25, 61, 1e9, 2.5, Number.NaN),
    fc.array(fc.integer(), { maxLength: 3 }),
    fc.dictionary(fc.string({ maxLength: 5 }), fc.anything(), { maxKeys: 3 }),
  );
  const notAReed = junk.filter(
    (value) => value !== null && !(Number.isInteger(value) && Number(value) >= -24 && Number(value) <= 60),
  );

  interface Broken {
    readonly file: unknown;
    /** What the message must begin with. */
    readonly place: RegExp;
  }
  const broken: fc.Arbitrary<Broken> = fc
    .tuple(anyLayout, fc.nat({ max: 15 }), fc.constantFrom("blow", "draw"), notAReed, fc.nat({ max: 5 }))
    .map(([layout, where, breath, value, how]) => {
      const file = JSON.parse(writeLayout(layout));
      const hole = where % file.holes.length;
      const place = new RegExp(`^hole ${hole + 1}(, ${breath})?: `);
      if (how === 0) return { file: { ...file, schema: value }, place: /^not a layout: / };
      if (how === 1) return { file: { ...file, version: [value] }, place: /^version: / };
      if (how === 2) return { file: { ...file, name: [value] }, place: /^name: / };
      if (how === 3) file.holes[hole] = [value];
      if (how === 4) file.holes[hole][breath] = value;
      if (how === 5) delete file.holes[hole][breath];
      return { file, place };
    });

  test("are each refused in one clear line that names the place, and none throws", () => {
    let seen = 0;
    fc.assert(
      fc.property(broken, ({ file, place }) => {
        const read = checkLayout(file);
        const reason = read.kind === "unreadable" ? read.reason : "was read";
        expect(reason).toMatch(place);
        expect(reason.split(/[\n\r\u2028\u2029]/)).toHaveLength(1);
        expect(reason.length).toBeLessThan(200);
        seen += 1;
      }),
      { numRuns: 1000 },
    );
    expect(seen).toBeGreaterThanOrEqual(1000);
  });

  test("cut or scrambled text is refused in one line as well", () => {
    const text = writeLayout(STANDARD_LAYOUT);
    fc.assert(
      fc.property(fc.nat({ max: text.length - 3 }), fc.string({ maxLength: 4 }), (end, added) => {
        const read = readLayout(text.slice(0, end) + added);
        expect(read.kind).toBe("unreadable");
        expect(read.kind === "unreadable" && /^[^\n\r]{5,}$/.test(read.reason)).toBe(true);
      }),
    );
  });
});
