/** Rows of a table as RFC 4180 has it: fields in quotes may hold commas, line ends and doubled quotes. */
export function readCsv(text: string): string[][] {
  const rows: string[][] = [[]];
  for (const { 1: quoted, 2: plain, 3: end } of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/g)) {
    rows.at(-1)?.push(quoted?.replaceAll('""', '"') ?? plain ?? "");
    if (end === "\r\n") rows.push([]);
  }
  return rows.slice(0, -1);
}

/** Rows under their headings. */
export function readTable(text: string): Readonly<Record<string, string>>[] {
  const [head = [], ...rows] = readCsv(text);
  return rows.map((row) => Object.fromEntries(head.map((heading, at) => [heading, row[at] ?? ""])));
}
