import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { beatsPerSecond, pureRatio } from "../../../core/pitch/beat-rate.ts";
import { ratio, ratioCents, ratioDeviation } from "../../../core/pitch/ratios.ts";
import { readScala } from "../../../core/pitch/scala-scale.ts";
import { schemeCents, TUNING_SCHEMES, tuningScheme } from "../../../core/pitch/tuning-schemes.ts";
import { hz } from "../../../core/units.ts";
import { PRINTED_RATIOS } from "../../sources/just-ratios.ts";

describe("ratios", () => {
  test.each(PRINTED_RATIOS)("%s is %d cents", (text, cents, deviation) => {
    // The table prints two decimals: to half of the last one.
    expect(ratioCents(ratio(text))).toBeCloseTo(cents, 2);
    const nearest = Math.round(cents / 100);
    if (deviation !== null) expect(ratioDeviation(ratio(text), nearest)).toBeCloseTo(deviation, 2);
  });

  test("a word that is no ratio is a broken promise", () => {
    expect(() => ratio("1.5")).toThrow("not a ratio");
  });
});

describe("tuning schemes", () => {
  test("each has twelve rising notes within the octave, each within a third of a semitone of equal", () => {
    // [calc] the widest is 7/6, 33.13 cents flat.
    for (const { id, ratios } of TUNING_SCHEMES) {
      expect(ratios, id).toHaveLength(12);
      const cents = ratios.map((text) => ratioCents(ratio(text)));
      expect([...cents].sort((a, b) => a - b)).toEqual(cents);
      expect(cents.every((value, step) => Math.abs(value - 100 * step) < 33.2)).toBe(true);
    }
  });

  test("the pure seventh's draw chord lies at 21/16, 27/16 and 15/8 above the key", () => {
    // Fact sheet, section 3: draw 5 -29.22, draw 6 +5.87, draw 3 -11.73 [calc].
    const sevenths = tuningScheme("just-sevenths");
    expect(schemeCents(sevenths, 17)).toBeCloseTo(-29.22, 2);
    expect(schemeCents(sevenths, 21)).toBeCloseTo(5.87, 2);
    expect(schemeCents(sevenths, -1)).toBeCloseTo(-11.73, 2);
  });
});

describe("beats", () => {
  test("an octave a hertz wide at its upper note beats once a second", () => {
    // Hansson, How I tune harmonicas, part 4 [F 26].
    expect(beatsPerSecond(hz(440), hz(881), 12)).toBeCloseTo(1, 9);
  });

  // Fact sheet, section 5: octave |2 low - high|, fifth |3 low - 2 high|, major third |5 low - 4 high| [calc].
  test.each([
    [12, 2, 1],
    [7, 3, 2],
    [4, 5, 4],
    [16, 5, 2], // [calc] a tenth: 5/4 x 2
    [19, 3, 1], // [calc] a twelfth: 3/2 x 2
    [0, 1, 1],
  ])("an interval of %d semitones is %d to %d", (size, over, under) => {
    expect(pureRatio(size)).toEqual({ over, under });
    expect(beatsPerSecond(hz(300), hz(500), size)).toBe(Math.abs(over * 300 - under * 500));
  });

  test("a pure interval does not beat, and a tempered fifth on A4 beats a semiquaver's worth", () => {
    expect(beatsPerSecond(hz(200), hz(300), 7)).toBe(0);
    // [calc] |3 x 440 - 2 x 440 x 2^(7/12)| = 1.49
    expect(beatsPerSecond(hz(440), hz(440 * 2 ** (7 / 12)), 7)).toBeCloseTo(1.49, 2);
  });

  test.each([1, 2, 6, 10, 11, 13])("%d semitones have no ratio to count beats by", (size) => {
    expect(pureRatio(size)).toBeNull();
    expect(beatsPerSecond(hz(300), hz(500), size)).toBeNull();
  });
});

/** A file in the format of "Scala scale file format", huygens-fokker.org/scala/scl_format.html; of our own writing. */
const JUST_MAJOR = `! just-major.scl
!
Just major for a practice harp
 7
!
 9/8
 386.314 cents
! a comment between the notes
 4/3    D to G
 701.955
 5/3
 15/8
 2
`;

describe("a Scala file", () => {
  const steps = (text: string) => {
    const read = readScala(text);
    if (read.kind === "unreadable") throw new Error(read.reason);
    return read.scale;
  };
  const reason = (text: string) => {
    const read = readScala(text);
    return read.kind === "unreadable" ? read.reason : "was read";
  };

  test("gives ratios, cents and whole numbers as cents, and passes comments and remarks over", () => {
    const scale = steps(JUST_MAJOR);
    expect(scale.name).toBe("Just major for a practice harp");
    // [calc] 1200 log2 of 9/8, 4/3, 5/3, 15/8, 2/1; the others as written.
    [203.91, 386.314, 498.045, 701.955, 884.359, 1088.269, 1200].forEach((cents, index) => {
      expect(scale.steps[index]).toBeCloseTo(cents, 2);
    });
  });

  test.each([
    ["Windows line ends and a byte order mark", `\uFEFF${JUST_MAJOR.replace(/\n/g, "\r\n")}`],
    ["an empty description", JUST_MAJOR.replace("Just major for a practice harp", "")],
    ["no line end at the end", JUST_MAJOR.trimEnd()],
    ["empty lines and comments at the end", `${JUST_MAJOR}\n! end\n\n`],
    ["tabs and spaces about the numbers", JUST_MAJOR.replace(" 9/8", "\t 9/8\tD").replace(" 7\n", "\t7 \n")],
  ])("is read with %s", (_, text) => {
    expect(steps(text).steps).toHaveLength(7);
  });

  // The lines the format's description gives as valid: 81/64, 408.0, 408., 5, -5.0, 10/20, 100.0 cents, 100.0 C#, 5/4 E\.
  test.each([
    ["81/64", 407.82],
    ["408.0", 408],
    ["408.", 408],
    ["5", 2786.31],
    ["-5.0", -5],
    ["10/20", -1200],
    ["100.0 cents", 100],
    [" 100.0 C#", 100],
    [" 5/4   E\\", 386.31],
  ])("reads the pitch line %j as %d cents", (line, cents) => {
    expect(steps(`x\n2\n${line}\n2/1\n`).steps[0]).toBeCloseTo(cents, 2);
  });

  test.each([
    ["", /ends before the number of notes/],
    ["only a name", /ends before the number of notes/],
    ["x\nseven\n", /^line 2: expected the number of notes, not "seven"$/],
    ["x\n-1\n", /^line 2: expected the number of notes/],
    ["x\n0\n", /^line 2: the scale has no notes$/],
    ["x\n129\n", /^line 2: 129 notes; at most 128 are read$/],
    ["x\n3\n9/8\n2/1\n", /^says 3 notes but lists 2$/],
    ["x\n1\n9/8\n2/1\n", /^says 1 note but lists 2$/],
    ["x\n2\n-9/8\n2/1\n", /^line 3: "-9\/8": a ratio cannot be negative$/],
    ["x\n2\n9/0\n2/1\n", /^line 3: .*has no zero$/],
    ["x\n2\n0\n2/1\n", /^line 3: .*has no zero$/],
    ["x\n2\n9/8/7\n2/1\n", /^line 3: .*neither cents .* nor a ratio$/],
    ["x\n2\nninth\n2/1\n", /^line 3: "ninth" is neither/],
    ["x\n2\n4294967296/4294967295\n2/1\n", /^line 3: .*above 2147483647$/],
    ["x\n2\n99999.0\n2/1\n", /^line 3: .*more than 9600 cents$/],
    ["x\n2\n9/8\n3/2\n", /^line 4: the last note lies at 702.0 cents; it must be the octave/],
    ["!\n!\nx\n!\n2\n!\n9/8\nbad\n", /^line 8: "bad"/],
    ["a".repeat(100_001), /^the text has 100,001 characters; at most 100,000 are read$/],
  ])("%j is refused in one line", (text, expected) => {
    expect(reason(text)).toMatch(expected);
    expect(reason(text)).not.toMatch(/[\n\r]/);
  });

  test("cut or changed anywhere is read or refused, and never throws", () => {
    fc.assert(
      fc.property(fc.nat({ max: JUST_MAJOR.length }), fc.string({ maxLength: 6 }), (at, put) => {
        const read = readScala(JUST_MAJOR.slice(0, at) + put + JUST_MAJOR.slice(at + 3));
        if (read.kind === "scale") expect(read.scale.steps.every(Number.isFinite)).toBe(true);
        else expect(read.reason).toMatch(/^[^\n\r]{5,200}$/);
      }),
    );
  });
});
