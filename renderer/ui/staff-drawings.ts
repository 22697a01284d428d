import { drawAbc } from "./draw-abc.ts";

const SCALE = 1.4;
/** A staff larger than this leaves a window no room for tab and pitch; as in sheet.css. */
const LARGEST = 1.5;
/** More lines than an exercise or two have. */
const MOST_KEPT = 128;

const kept = new Map<string, DocumentFragment>();

/** Room for a line, and how many times its usual size text is. */
export interface LineSize {
  readonly width: number;
  readonly textScale: number;
}

/** A line of music as a picture of its own, drawn once for each size: drawing takes longer than a frame of the screen. */
export async function staffDrawing(abc: string, size: LineSize): Promise<DocumentFragment> {
  const { width, textScale } = size;
  const key = `${width} ${textScale} ${abc}`;
  const known = kept.get(key);
  const drawing = known ?? (await drawAbc(abc, { width, scale: SCALE * Math.min(LARGEST, textScale) }));
  if (known === undefined) keep(key, drawing);
  return drawing.cloneNode(true) as DocumentFragment;
}

function keep(key: string, drawing: DocumentFragment): void {
  const [oldest] = kept.keys();
  if (kept.size >= MOST_KEPT && oldest !== undefined) kept.delete(oldest);
  kept.set(key, drawing);
}

/** Draws lines in the window's idle moments, so that they are there when playing reaches them. @returns what ends it */
export function prepareStaff(lines: readonly string[], size: LineSize): () => void {
  if (typeof requestIdleCallback !== "function") return () => {};
  let left = lines;
  const next = () => {
    const [line, ...others] = left;
    left = others;
    // A line that fails is told where it is shown; the others are drawn all the same.
    if (line !== undefined) void staffDrawing(line, size).then(ask, ask);
  };
  let asked = 0;
  const ask = () => {
    if (left.length > 0) asked = requestIdleCallback(next);
  };
  ask();
  return () => {
    left = [];
    cancelIdleCallback(asked);
  };
}
