import { type Shape, TEXT_SIZE, text, widthOf } from "./drawing.ts";

/** A sign, drawn about the middle of a field 16 pixels (times text) wide, and what it stands for. */
export interface LegendEntry {
  readonly words: string;
  readonly sign: (middle: { readonly x: number; readonly y: number }) => readonly Shape[];
}

/** Signs with their words, as many to a row as fit the width. */
export function legend(
  entries: readonly LegendEntry[],
  width: number,
  textScale: number,
): { readonly shapes: readonly Shape[]; readonly width: number; readonly height: number } {
  const size = TEXT_SIZE * textScale;
  const [field, row] = [32 * textScale, 24 * textScale];
  const shapes: Shape[] = [];
  let [x, y, widest] = [0, 0, 0];
  for (const { words, sign } of entries) {
    const wide = field + widthOf(words, size) + size;
    if (x > 0 && x + wide > width) [x, y] = [0, y + row];
    shapes.push(...sign({ x: x + 12 * textScale, y: y + row / 2 }));
    shapes.push(text(words, { x: x + field, y: y + row / 2 + 0.35 * size }, size, { ink: "soft" }));
    x += wide;
    widest = Math.max(widest, x);
  }
  return { shapes, width: widest, height: entries.length === 0 ? 0 : y + row + 8 };
}
