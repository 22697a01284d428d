import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { music, names, onsets, quavers, tuneOf, words } from "./read.ts";

/** Quavers of a tune of one bar with these fields, for the notes of `body`. */
const lengthsWith = (fields: string, body: string) =>
  quavers(tuneOf(`X:1\nT:A tune of ours\n${fields}\nK:C\n${body}\n`));

describe("unit note length (ABC 2.1, 3.1.7) [F 47]", () => {
  test.each([
    // [calc] 2/4 = 0.5 < 0.75: semiquavers, half a quaver; all others quavers.
    ["M:2/4", 0.5],
    ["M:3/8", 0.5],
    ["M:3/4", 1],
    ["M:6/8", 1],
    ["M:4/4", 1],
    ["M:C", 1],
    ["M:C|", 1],
    ["M:none", 1],
    ["", 1],
    ["M:5/8", 0.5],
  ])("without L:, %s has notes of %d quavers", (metre, length) => {
    expect(lengthsWith(metre === "" ? "C:nobody" : metre, "C|")).toEqual([length]);
  });

  test("a change of metre in the body does not change it", () => {
    expect(lengthsWith("M:4/4", "C|\nM:2/4\nC|[M:2/4]C|")).toEqual([1, 1, 1]);
  });

  test("L: sets it, before and within the music, also in brackets", () => {
    expect(lengthsWith("M:4/4\nL:1/4", "C|\nL:1/16\nC[L:1/2]C|")).toEqual([2, 0.5, 4]);
  });
});

describe("note lengths (4.3) [F 47]", () => {
  test.each([
    ["A", 1],
    ["A2", 2],
    ["A3/2", 1.5],
    ["A/2", 0.5],
    ["A/", 0.5],
    ["A//", 0.25],
    ["A/4", 0.25],
    ["A3/", 1.5],
    ["A7", 7],
    // [calc] a 128th note of quavers: 1/16 quaver.
    ["A/16", 1 / 16],
    ["A////", 1 / 16],
    ["A/32", 1 / 32],
    ["A16", 16],
  ])("%s is %d unit notes", (written, units) => {
    expect(quavers(music(`${written}|`))).toEqual([units]);
  });

  test("a length over 64 semibreves is an error, with its place", () => {
    expect(() => music("C2 D9999|")).toThrow("longer than 64 semibreves");
  });
});

describe("broken rhythm (4.4) [F 47]", () => {
  test.each([
    // [calc] 1 + 1/2 and 1/2; 7/4 and 1/4; 15/8 and 1/8.
    ["A>B", [1.5, 0.5]],
    ["A<B", [0.5, 1.5]],
    ["A>>B", [1.75, 0.25]],
    ["A<<B", [0.25, 1.75]],
    ["A>>>B", [1.875, 0.125]],
    ["A<<<B", [0.125, 1.875]],
    ["A2>B2", [3, 1]],
    ["A > B", [1.5, 0.5]],
  ])("%s", (written, lengths) => {
    expect(quavers(music(`${written}|`))).toEqual(lengths);
  });

  test("grace notes on either side of it change nothing (4.12)", () => {
    expect(quavers(music("A<{g}A|"))).toEqual([0.5, 1.5]);
    expect(quavers(music("A{g}<A|"))).toEqual([0.5, 1.5]);
  });

  test("rests and chords take part", () => {
    expect(onsets(music("A>z B|"))).toEqual([0, 2]);
    expect(quavers(music("[CE]>[DF]|"))).toEqual([1.5, 0.5]);
  });

  test("with no note before it, it is left out with a remark", () => {
    const tune = music(">A B|");
    expect(quavers(tune)).toEqual([1, 1]);
    expect(words(tune)).toContain("broken rhythm needs a note before it; it is left out");
  });
});

describe("groups (4.13) [F 47]", () => {
  const notes = "cdefgabcd";

  test.each([
    [2, 3],
    [3, 2],
    [4, 3],
    [5, 2],
    [6, 2],
    [7, 2],
    [8, 3],
    [9, 2],
  ])("(%d in simple time goes into the time of %d", (p, q) => {
    // [calc] p notes of a quaver last q quavers: q/p each.
    expectClose(lengthsWith("M:4/4\nL:1/8", `(${p}${notes.slice(0, p)}c|`), [...Array(p).fill(q / p), 1]);
  });

  test.each(["6/8", "9/8", "12/8"])("in %s (5, (7 and (9 go into the time of three", (metre) => {
    for (const p of [5, 7, 9]) {
      expectClose(lengthsWith(`M:${metre}\nL:1/8`, `(${p}${notes.slice(0, p)}c|`), [
        ...Array(p).fill(3 / p),
        1,
      ]);
    }
  });

  test.each(["3/4", "3/8", "2/4", "5/8"])("in %s (5 goes into the time of two", (metre) => {
    expectClose(lengthsWith(`M:${metre}\nL:1/8`, "(5cdefgc|"), [0.4, 0.4, 0.4, 0.4, 0.4, 1]);
  });

  test.each([
    // [calc] length × q/p for r notes.
    ["(3:2:3abc d", [2 / 3, 2 / 3, 2 / 3, 1]],
    ["(3::abc d", [2 / 3, 2 / 3, 2 / 3, 1]],
    ["(3:abc d", [2 / 3, 2 / 3, 2 / 3, 1]],
    ["(3:2abc d", [2 / 3, 2 / 3, 2 / 3, 1]],
    ["(3::2ab c", [2 / 3, 2 / 3, 1]],
    ["(3:2:2G4c2 d", [8 / 3, 4 / 3, 1]],
    ["(3:2:4G2A2Bc d", [4 / 3, 4 / 3, 2 / 3, 2 / 3, 1]],
    ["(3 D2E2F2 d", [4 / 3, 4 / 3, 4 / 3, 1]],
    ["(3 D3EF2 d", [2, 2 / 3, 4 / 3, 1]],
    ["(5:4:6abcdef g", [0.8, 0.8, 0.8, 0.8, 0.8, 0.8, 1]],
    ["(3   abc d", [2 / 3, 2 / 3, 2 / 3, 1]],
    ["(11:8abcdefgabcd e", [...Array(11).fill(8 / 11), 1]],
  ])("%s", (written, lengths) => {
    expectClose(quavers(music(`${written}|`)), lengths);
  });

  test("rests and chords count as notes of a group", () => {
    expectClose(quavers(music("(3az[ce] d|")), [2 / 3, 2 / 3, 1]);
  });

  test("a slur around a group is not one", () => {
    expectClose(quavers(music("((3abc) (de)|")), [2 / 3, 2 / 3, 2 / 3, 1, 1]);
  });

  test("a group within a group is left out with a remark", () => {
    const tune = music("(3a(3bcd|");
    expect(names(tune)).toBe("A5 B5 C5 D5");
    expect(words(tune)).toContain("a group within a group is left out");
  });

  test("onsets never drift: after seven of seven the next note is on its beat exactly", () => {
    // [calc] 161,280 × 2/8 ÷ 7 = 5,760 ticks: whole.
    expect(onsets(music("(7cdefgabC|"))).toContain(2);
    // Elevenths are not whole, yet the sum is.
    expect(onsets(music("(11:8abcdefgabcdC|"))).toContain(8);
  });
});

describe("rests (4.5) [F 47]", () => {
  test("z and x take their time and sound nothing", () => {
    expect(onsets(music("C z2 D x3/2 E|"))).toEqual([0, 3, 5.5]);
  });

  test("Z and X are rests of whole bars, of the metre in force", () => {
    expect(onsets(music("C8|Z2|D8|[M:3/4]X|E6|"))).toEqual([0, 24, 38]);
    expect(music("C8|Z2|D8|").bars.map(({ lengthTicks }) => lengthTicks / 20_160)).toEqual([8, 8, 8, 8]);
  });

  test("more bars of rest than a tune may have are an error", () => {
    expect(() => music("C8|Z99999999|")).toThrow("a rest of 99999999 bars cannot be");
  });
});

test("spaces, back quotes, y and line ends within a bar change nothing (4.7, 6.1)", () => {
  const plain = music("ABcd efga|");
  for (const body of [
    "A B`c``d  e f y g a|",
    "ABcd \\\n efga|",
    "ABcd\nefga|",
    "AByc3/3d y4 ef$ga*|",
    "ABcd ! efga|",
  ]) {
    expect(quavers(music(body))).toEqual(quavers(plain));
    expect(names(music(body))).toBe(names(plain));
  }
});

test("any bar of any lengths ends where its lengths end, and each note where the next begins", () => {
  const length = fc.tuple(fc.integer({ min: 1, max: 15 }), fc.constantFrom(1, 2, 4, 8));
  const note = fc.tuple(fc.constantFrom(..."CDEFGABcdefgab"), length);
  fc.assert(
    fc.property(fc.array(note, { minLength: 1, maxLength: 40 }), (notes) => {
      const tune = music(`${notes.map(([name, [top, bottom]]) => `${name}${top}/${bottom}`).join("")}|`);
      const lengths = notes.map(([, [top, bottom]]) => top / bottom);
      expect(quavers(tune)).toEqual(lengths);
      // [calc] onsets are the sums of the lengths before; eighths of quavers are exact in binary.
      expect(onsets(tune)).toEqual(
        lengths.map((_, at) => lengths.slice(0, at).reduce((sum, one) => sum + one, 0)),
      );
    }),
    { numRuns: 100 },
  );
});

/** To a tick: a 20,160th of a quaver. */
function expectClose(got: readonly number[], wanted: readonly number[]): void {
  expect(got).toHaveLength(wanted.length);
  for (const [at, length] of wanted.entries())
    expect(Math.abs((got[at] ?? 0) - length)).toBeLessThan(1.01 / 20_160);
}
