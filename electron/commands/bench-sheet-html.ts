import type { BenchSheet, SheetPair, SheetRow } from "../../core/workshop/retune/bench-sheet.ts";
import { escaped, PAPERS, type Paper } from "./sheet-html.ts";

const MARGIN_MM = 12;
/** More passes than these need the length of the paper. */
const MOST_UPRIGHT = 3;

/** Lines as high as a pencil needs; the head of a table stands on every page it goes on to. */
const STYLE = `
body { margin: 0 auto; color: #000; background: #fff; font: 9pt/1.3 sans-serif; font-variant-numeric: tabular-nums }
h1 { font-size: 14pt; margin: 0 0 2mm }
h2 { font-size: 10.5pt; margin: 4mm 0 1mm; break-after: avoid }
p { margin: 0 0 1mm }
ul { margin: 0; padding-left: 5mm; font-size: 8.5pt; line-height: 1.25 }
.caution { border: 1.5pt solid #000; padding: 1.5mm 2mm; margin: 2mm 0; font-weight: bold }
table { border-collapse: collapse; width: 100% }
thead { display: table-header-group }
tr { break-inside: avoid }
th, td { border: 0.5pt solid #555; padding: 0.4mm 1mm; text-align: left; vertical-align: middle }
th { font-weight: normal; font-size: 8.5pt; background: #eee; print-color-adjust: exact }
tbody td { height: 6mm }
td.number { text-align: right; white-space: nowrap }
td.reed { font-weight: bold; white-space: nowrap }
td.work { font-size: 8.5pt; white-space: nowrap }
ul + table { margin-top: 1.5mm }
td.blank { min-width: 11mm }
.pairs { display: grid; grid-template-columns: 1fr 1fr; column-gap: 6mm; align-items: start; break-inside: avoid }
.dates { line-height: 1.8 }
.dates span { display: inline-block; width: 24mm; border-bottom: 0.5pt solid #555; margin-right: 4mm }
.log p { border-bottom: 0.5pt solid #555; height: 7mm; margin: 0 }
`;

/** A bench sheet as a page of its own, ready to print: nothing in it is fetched or run. */
export function benchSheetHtml(sheet: BenchSheet, paper: Paper): string {
  const { width, height, css } = PAPERS[paper];
  const turned = sheet.passes.length > MOST_UPRIGHT;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(sheet.title)}</title>
<style>
@page { size: ${css} ${turned ? "landscape" : "portrait"}; margin: ${MARGIN_MM}mm }
body { max-width: ${(turned ? height : width) - 2 * MARGIN_MM}mm }${STYLE}</style>
</head>
<body>
<h1>${escaped(sheet.title)}</h1>
${sheet.lines.map((line) => `<p>${escaped(line)}</p>`).join("\n")}
<p class="dates">${["Begun", ...sheet.passes.slice(1).map(({ name }) => name)].map(dateHtml).join(" ")}</p>
<p class="caution">${escaped(sheet.caution)}</p>
${list(sheet.advice)}
${section("Before tuning", list(sheet.first))}
${section("Reeds, in the order of the work", `${list(sheet.means)}\n${reedTable(sheet)}`)}
${section("Last, by ear: octaves and unisons at the very end", pairTables(sheet.pairs))}
<section class="log">
<h2>Notes</h2>
<p></p><p></p><p></p>
</section>
</body>
</html>
`;
}

const dateHtml = (name: string) => `${name.replaceAll(" ", "&nbsp;")}&nbsp;on&nbsp;<span>&nbsp;</span>`;

const list = (lines: readonly string[]) =>
  lines.length === 0 ? "" : `<ul>\n${lines.map((line) => `<li>${escaped(line)}</li>`).join("\n")}\n</ul>`;

const section = (title: string, body: string) =>
  body === "" ? "" : `<section>\n<h2>${title}</h2>\n${body}\n</section>`;

function reedTable({ passes, rows }: BenchSheet): string {
  const heads = ["", "reed", "now", "wanted", "cents", "work", "before"].map((name) => `<th>${name}</th>`);
  const passHeads = passes.map(({ name, rest }) => `<th>${name}<br>aim</th><th>read<br>${rest}</th>`);
  const after = passes.length === 0 ? "<th>after</th>" : "";
  return `<table>
<thead><tr>${heads.join("")}${passHeads.join("")}${after}</tr></thead>
<tbody>
${rows.map(rowHtml).join("\n")}
</tbody>
</table>`;
}

function rowHtml(row: SheetRow): string {
  const aims = row.aims.map(
    (aim) => `<td class="number">${aim === null ? "" : escaped(aim)}</td><td class="blank"></td>`,
  );
  const after = row.aims.length === 0 ? '<td class="blank"></td>' : "";
  return `<tr><td class="number">${row.order ?? ""}</td><td class="reed">${row.reed}</td><td>${escaped(row.noteNow)}</td><td>${escaped(row.noteWanted)}</td><td class="number">${row.change}</td><td class="work">${escaped(row.work)}</td><td class="blank">${row.readingNow ?? ""}</td>${aims.join("")}${after}</tr>`;
}

/** Two tables beside each other, read down the left one first. */
function pairTables(pairs: readonly SheetPair[]): string {
  if (pairs.length === 0) return "";
  const half = Math.ceil(pairs.length / 2);
  const tables = [pairs.slice(0, half), pairs.slice(half)].filter((some) => some.length > 0);
  return `<div class="pairs">${tables.map(pairTable).join("\n")}</div>`;
}

function pairTable(pairs: readonly SheetPair[]): string {
  const rows = pairs.map(
    ({ pair, beats }) =>
      `<tr><td>${escaped(pair)}</td><td>${escaped(beats)}</td><td class="blank"></td></tr>`,
  );
  return `<table>
<thead><tr><th>pair</th><th>beats when right</th><th>heard</th></tr></thead>
<tbody>
${rows.join("\n")}
</tbody>
</table>`;
}
