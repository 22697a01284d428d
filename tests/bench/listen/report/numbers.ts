/** Numbers as the tables show them; a dash where there was nothing to measure. */
export const fixed = (value: number, decimals: number) =>
  Number.isFinite(value) ? value.toFixed(decimals) : value === Number.POSITIVE_INFINITY ? "never" : "-";

/** A share, 0..1, in per cent. */
export const percent = (share: number, decimals = 1) => fixed(100 * share, decimals);

/** A table in Markdown. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = head.map((_, c) => Math.max(...[head, ...rows].map((row) => row[c]?.length ?? 0)));
  const line = (row: readonly string[]) =>
    `| ${row.map((cell, c) => cell.padEnd(widths[c] ?? 0)).join(" | ")} |`;
  const rule = `|${widths.map((width) => "-".repeat(width + 2)).join("|")}|`;
  return [line(head), rule, ...rows.map(line)].join("\n");
}
