import type { ReedpathDatabase } from "../../renderer/store/database.ts";
import { COPIED_TABLES, plainTable, type Row } from "../../renderer/store/second-copy/copied-tables.ts";

/** What the second copy holds otherwise than the database, row by row and to the bit, in words; all rows are read. */
export async function copyDifferences(database: ReedpathDatabase): Promise<readonly string[]> {
  const { secondCopy } = database;
  if (secondCopy === null) throw new Error("there is no second copy here");
  await database.copied();
  const copy = await secondCopy.open();
  const differences: string[] = [];
  for (const table of COPIED_TABLES) {
    const kept = (await plainTable(database, table.from).toArray())
      .map((row) => table.part(row))
      .filter((part) => part !== null);
    const copied: readonly Row[] = await copy.rowsOf(table).toArray();
    const names = table.key.replace(/[[\]]/g, "").split("+");
    const keyOf = (row: Row) => names.map((name) => String(row[name])).join(" ");
    const texts = new Map(copied.map((row) => [keyOf(row), textOf(row)]));
    for (const row of kept) {
      const text = texts.get(keyOf(row));
      texts.delete(keyOf(row));
      if (text === undefined) differences.push(`${table.from} ${keyOf(row)} is not in the second copy`);
      else if (text !== textOf(row))
        differences.push(`${table.from} ${keyOf(row)} is another in the second copy`);
    }
    for (const key of texts.keys()) differences.push(`${table.from} ${key} is only in the second copy`);
  }
  return differences;
}

/** Equal for equal data. Of arrays of numbers every byte. */
const textOf = (row: Row): string =>
  JSON.stringify(row, (_, value: unknown) => {
    if (ArrayBuffer.isView(value)) {
      const bytes = new Uint8Array(value.buffer, value.byteOffset, value.byteLength);
      return `${value.constructor.name} ${bytes.join()}`;
    }
    if (typeof value === "number" && !Number.isFinite(value)) return String(value);
    if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
    return Object.fromEntries(Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1)));
  });
