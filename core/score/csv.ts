/** What stands in one field: a text, a number in point notation, or nothing. */
export type Field = string | number | null;

/** How spreadsheets begin a formula. */
const BEGINS_FORMULA = /^[=+\-@\t\r]/;

/** A text that a spreadsheet would take for a formula gets an apostrophe before it, by which it stays a text. */
function fieldText(field: Field): string {
  if (field === null) return "";
  if (typeof field === "number") return Number.isFinite(field) ? String(field) : "";
  return BEGINS_FORMULA.test(field) ? `'${field}` : field;
}

/**
 * Rows as comma-separated values, the first row the header, each ended by CR LF.
 *
 * Source: RFC 4180. Formulas: OWASP, "CSV injection".
 */
export function toCsv(rows: readonly (readonly Field[])[]): string {
  return rows.map((row) => `${row.map((field) => quoted(fieldText(field))).join(",")}\r\n`).join("");
}

const quoted = (text: string) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** Rows as tab-separated lines, as spreadsheets paste them; a tab or line end within a text becomes a space. */
export function toTsv(rows: readonly (readonly Field[])[]): string {
  const line = (row: readonly Field[]) =>
    row.map((field) => fieldText(field).replace(/[\t\r\n]+/g, " ")).join("\t");
  return `${rows.map(line).join("\n")}\n`;
}
