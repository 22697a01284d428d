import { Abc } from "abc2svg/abc2svg-1.js";

/** Width and height of the paper in millimetres, and the name CSS has for it. */
export const PAPERS = {
  a4: { width: 210, height: 297, css: "A4" },
  letter: { width: 215.9, height: 279.4, css: "letter" },
} as const;
export type Paper = keyof typeof PAPERS;
export const PAPER_NAMES = Object.keys(PAPERS) as readonly Paper[];

const MARGIN_MM = 14;

/** How abc2svg sets the music: the full width, tab large enough to read from a stand. */
const formatOf = (widthMm: number, scale: number) => `%%scale ${scale}
%%pagewidth ${widthMm / 10}cm
%%leftmargin 0
%%rightmargin 0
%%topspace 0
%%stretchlast 0.6
%%titlefont sans-serif-bold 20
%%subtitlefont sans-serif 14
%%vocalfont sans-serif-bold 14
%%gchordfont sans-serif 13
%%composerfont sans-serif-italic 12
%%textfont sans-serif 12
`;

/**
 * A sheet as a page of its own, ready to print: nothing in it is fetched or run.
 *
 * @param abc as `tuneSheet` gives it
 * @throws Error if nothing could be drawn of it
 */
export function sheetHtml(title: string, abc: string, paper: Paper): string {
  const { width, css } = PAPERS[paper];
  const drawing = drawnToFit(width - 2 * MARGIN_MM, abc);
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; font-src data:">
<title>${escaped(title)}</title>
<style>
@page { size: ${css} portrait; margin: ${MARGIN_MM}mm }
body { margin: 0 auto; max-width: ${width - 2 * MARGIN_MM}mm; color: #000; background: #fff; font-family: sans-serif }
svg { display: block; max-width: 100%; height: auto }
.nobrk { break-inside: avoid }
</style>
</head>
<body>
${drawing}
</body>
</html>
`;
}

/** Sizes of the music, the usual one first. */
const SCALES = [0.75, 0.6, 0.45, 0.3, 0.2];

/** As large as every line fits into the width; it would be cut at the edge otherwise. */
function drawnToFit(widthMm: number, abc: string): string {
  const [usual, ...smaller] = SCALES.map((scale) => () => drawn(formatOf(widthMm, scale) + abc));
  let best = usual?.() ?? { drawing: "", cut: false };
  for (const draw of smaller) {
    if (!best.cut) break;
    best = draw();
  }
  return best.drawing;
}

function drawn(abc: string): { readonly drawing: string; readonly cut: boolean } {
  const pieces: string[] = [];
  const faults: string[] = [];
  const drawer = new Abc({
    img_out: (piece) => pieces.push(piece),
    // A decoration it does not know is left out of the drawing and no more.
    errmsg: (message) => faults.push(message),
    read_file: () => "",
  });
  drawer.tosvg("sheet", abc);
  const drawing = pieces.join("\n");
  if (!drawing.includes("<svg")) throw new Error(`the sheet was not drawn: ${faults[0] ?? "no music"}`);
  return { drawing, cut: faults.some((fault) => /Error: Line too much shrunk/.test(fault)) };
}

/** A text as it stands in a page. */
export const escaped = (text: string) =>
  text.replace(/[&<>"]/g, (sign) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;" })[sign] ?? "&quot;");
