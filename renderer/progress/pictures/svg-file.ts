import { type Drawing, lowered, text, wrapped } from "./drawing.ts";
import { fileInk } from "./inks.ts";
import { type SvgElement, svgElement } from "./svg-shape.ts";

/** A picture as a file: its text and its size in pixels. */
export interface SvgFile {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

const MARGIN = 24;
const TITLE_SIZE = 20;
const WORDS_SIZE = 16;
/** Every system has one of these; none is fetched. */
const FONT = "system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif";

/**
 * A drawing as an SVG file that needs nothing else: light paper, its colours and font in itself, title and words above.
 *
 * @param words what the picture proves, a sentence or two; each begins a line
 *
 * Format: SVG 1.1 (W3C), in the elements line, path, circle and text.
 */
export function svgFile(drawing: Drawing, words: readonly string[]): SvgFile {
  const title = wrapped(drawing.title, TITLE_SIZE, drawing.width);
  const lines = words.flatMap((sentence) => wrapped(sentence, WORDS_SIZE, drawing.width));
  const heading = [
    ...title.map((row, place) => text(row, { x: 0, y: 20 + 26 * place }, TITLE_SIZE, { bold: true })),
    ...lines.map((row, place) => text(row, { x: 0, y: 20 + 26 * title.length + 22 * place }, WORDS_SIZE)),
  ];
  const above = 26 * title.length + 22 * lines.length + 16;
  const [width, height] = [drawing.width + 2 * MARGIN, drawing.height + above + 2 * MARGIN].map(
    Math.ceil,
  ) as [number, number];
  const parts = [...heading, ...lowered(drawing.shapes, above)].map((shape) => svgElement(shape, fileInk));
  const svg = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="${FONT}">`,
    `<title>${escaped(drawing.title)}</title>`,
    `<desc>${escaped(drawing.description)}</desc>`,
    `<rect width="${width}" height="${height}" fill="${fileInk("paper")}"/>`,
    `<g transform="translate(${MARGIN} ${MARGIN})">`,
    ...parts.map(written),
    "</g>",
    "</svg>",
    "",
  ].join("\n");
  return { svg, width, height };
}

function written({ tag, attributes, words }: SvgElement): string {
  const named = Object.entries(attributes).map(
    ([name, value]) => ` ${attributeName(name)}="${escaped(String(value))}"`,
  );
  return words === undefined
    ? `<${tag}${named.join("")}/>`
    : `<${tag}${named.join("")}>${escaped(words)}</${tag}>`;
}

/** "strokeWidth" is "stroke-width" in a file. */
const attributeName = (name: string) => name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&apos;",
};

/** Text for XML 1.0: what no XML file may hold (section 2.2) becomes a replacement character. */
export const escaped = (words: string): string =>
  words.replace(NOT_XML, "\uFFFD").replace(/[&<>"']/g, (character) => ESCAPES[character] ?? character);

// Halves of letters that were cut in two are no text either.
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const NOT_XML = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|\p{Cs}/gu;
