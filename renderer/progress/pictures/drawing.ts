/** The inks of the theme, by name; "nothing" leaves out. */
export type Ink = "paper" | "ink" | "soft" | "rule" | "band" | "now" | "look" | "nothing";

/** A place in a drawing: pixels from its left and top edge. */
export interface At {
  readonly x: number;
  readonly y: number;
}

/** One part of a drawing; sizes in pixels. */
export type Shape =
  | {
      readonly kind: "line";
      readonly from: At;
      readonly to: At;
      readonly ink: Ink;
      readonly width: number;
    }
  | {
      readonly kind: "run";
      /** A line from one to the next. */
      readonly points: readonly At[];
      readonly ink: Ink;
      readonly width: number;
    }
  | {
      readonly kind: "area";
      readonly corners: readonly At[];
      readonly fill: Ink;
      /** 0 to 1; 1 where absent. */
      readonly depth?: number;
      readonly edge?: Ink;
      readonly edgeWidth?: number;
    }
  | {
      readonly kind: "dot";
      readonly at: At;
      readonly radius: number;
      readonly fill: Ink;
      readonly edge: Ink;
      readonly edgeWidth: number;
    }
  | {
      readonly kind: "text";
      /** Left end, middle or right end of the line of writing, on its base line. */
      readonly at: At;
      readonly words: string;
      readonly size: number;
      readonly anchor: "start" | "middle" | "end";
      readonly ink: Ink;
      readonly bold?: boolean;
    };

/** A picture as plain data: drawn on the screen and written to a file from the same shapes. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** What it is a picture of, in a line. */
  readonly title: string;
  /** What it shows, in a sentence or two, for who cannot see it. */
  readonly description: string;
  readonly shapes: readonly Shape[];
}

/** The room a drawing has: what it is drawn for decides how wide it is and how large its text. */
export interface Room {
  /** Pixels; a drawing that needs more is wider. */
  readonly width: number;
  /** How many times its usual size text is, 1 to 2. */
  readonly textScale: number;
  /** Hole 1 on the right. */
  readonly mirrored: boolean;
}

/** What files are drawn for. */
export const FILE_ROOM: Room = { width: 960, textScale: 1, mirrored: false };

export const TEXT_SIZE = 16;

/** About how wide a line of writing is: the usual sans serif takes a little over half its size a letter. */
export const widthOf = (words: string, size: number): number => 0.56 * size * words.length;

export const text = (
  words: string,
  at: At,
  size: number,
  more: { readonly anchor?: "start" | "middle" | "end"; readonly ink?: Ink; readonly bold?: boolean } = {},
): Shape => ({ kind: "text", words, at, size, anchor: "start", ink: "ink", ...more });

export const line = (from: At, to: At, ink: Ink, width = 1): Shape => ({
  kind: "line",
  from,
  to,
  ink,
  width,
});

/** A rectangle. */
export const box = (
  { x, y, width, height }: At & { readonly width: number; readonly height: number },
  look: { readonly fill: Ink; readonly depth?: number; readonly edge?: Ink; readonly edgeWidth?: number },
): Shape => ({
  kind: "area",
  corners: [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ],
  ...look,
});

/** Moves shapes down. */
export function lowered(shapes: readonly Shape[], by: number): readonly Shape[] {
  const down = ({ x, y }: At): At => ({ x, y: y + by });
  const moved = (shape: Shape): Shape => {
    switch (shape.kind) {
      case "line":
        return { ...shape, from: down(shape.from), to: down(shape.to) };
      case "run":
        return { ...shape, points: shape.points.map(down) };
      case "area":
        return { ...shape, corners: shape.corners.map(down) };
      case "dot":
      case "text":
        return { ...shape, at: down(shape.at) };
    }
  };
  return shapes.map(moved);
}

/** Words in lines of at most so many pixels; a word longer than that has a line to itself. */
export function wrapped(words: string, size: number, width: number): readonly string[] {
  const lines: string[] = [];
  for (const word of words.split(" ")) {
    const longer = lines.length === 0 ? word : `${lines.at(-1)} ${word}`;
    if (lines.length > 0 && widthOf(longer, size) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}
