import { zipSync } from "fflate";

/** A part's measures as a whole file; what stands before the parts can be given. */
export function score(measures: string, head = "", root = "score-partwise"): string {
  return `<?xml version="1.0" encoding="UTF-8"?>
<${root} version="4.0">${head}
<part-list><score-part id="P1"><part-name>Melody</part-name></score-part></part-list>
<part id="P1">${measures}</part>
</${root}>`;
}

/** A score of several parts: id, name and measures of each. */
export function scoreOfParts(
  parts: readonly (readonly [id: string, name: string, measures: string])[],
): string {
  const list = parts.map(
    ([id, name]) => `<score-part id="${id}"><part-name>${name}</part-name></score-part>`,
  );
  const bodies = parts.map(([id, , measures]) => `<part id="${id}">${measures}</part>`);
  return `<score-partwise version="4.0"><part-list>${list.join("")}</part-list>${bodies.join("")}</score-partwise>`;
}

/** A first measure: crotchets divided by two, C major, the metre as asked. */
export const begin = (
  content: string,
  attributes = "",
  time = "<time><beats>4</beats><beat-type>4</beat-type></time>",
) =>
  measure(
    `<attributes><divisions>2</divisions>${attributes || "<key><fifths>0</fifths></key>"}${time}</attributes>${content}`,
  );

export const measure = (content: string) => `<measure number="1">${content}</measure>`;

/** Notes of one letter and octave each, "G4", of so many half crotchets; what follows the duration can be given. */
export function note(name: string, duration: number, rest = "", before = ""): string {
  const [, step, sign = "", octave] = /^([A-G])([#b]?)(\d)$/.exec(name) ?? [];
  const alter = sign === "" ? "" : `<alter>${sign === "#" ? 1 : -1}</alter>`;
  return `<note>${before}<pitch><step>${step}</step>${alter}<octave>${octave}</octave></pitch><duration>${duration}</duration>${rest}</note>`;
}

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

export const CONTAINER = `<?xml version="1.0" encoding="UTF-8"?>
<container><rootfiles><rootfile full-path="score.musicxml" media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>`;

/** A compressed file of these files. */
export function zipped(files: Readonly<Record<string, string | Uint8Array>>): Uint8Array {
  const bytes = Object.entries(files).map(
    ([name, content]) => [name, typeof content === "string" ? bytesOf(content) : content] as const,
  );
  return zipSync(Object.fromEntries(bytes));
}
