import { expect, test } from "vitest";
import { toCsv, toTsv } from "../../../core/score/csv.ts";

// [F RFC 4180] section 2: fields with commas, quotes or line ends are quoted, quotes doubled (rules 5 to 7); CR LF (rule 1).
test("a table is written as the standard has it", () => {
  expect(
    toCsv([
      ["note", "cents", "reason"],
      [1, -12.5, 'he said "5 draw"'],
      [2, null, "quiet, then loud\nagain"],
    ]),
  ).toBe('note,cents,reason\r\n1,-12.5,"he said ""5 draw"""\r\n2,,"quiet, then loud\nagain"\r\n');
});

// [F OWASP, CSV injection] = + - @, tab and carriage return begin a formula.
test.each(["=1+1", "+1", "-4", "@sum", "\tx", "\rx"])("%j stays a text in a spreadsheet", (text) => {
  expect(toCsv([[text]]).replaceAll('"', "")).toBe(`'${text}\r\n`);
});

test("a negative number stays a number, and what is no number is left empty", () => {
  expect(toCsv([[-4, Number.NaN, Number.POSITIVE_INFINITY]])).toBe("-4,,\r\n");
});

test("the table to be pasted has a line for each row, whatever stands in its fields", () => {
  expect(
    toTsv([
      ["a\tb", "=x", null],
      ["c\r\nd", -1.5, "e"],
    ]),
  ).toBe("a b\t'=x\t\nc d\t-1.5\te\n");
});
