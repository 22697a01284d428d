import type { At, Ink, Shape } from "./drawing.ts";

/** An SVG element: its attributes as React names them ("strokeWidth"). */
export interface SvgElement {
  readonly tag: "line" | "path" | "circle" | "text";
  readonly attributes: Readonly<Record<string, string | number>>;
  readonly words?: string;
}

/** @param colourOf how an ink is written where the picture goes */
export function svgElement(shape: Shape, colourOf: (ink: Ink) => string): SvgElement {
  switch (shape.kind) {
    case "line":
      return {
        tag: "line",
        attributes: {
          x1: tenth(shape.from.x),
          y1: tenth(shape.from.y),
          x2: tenth(shape.to.x),
          y2: tenth(shape.to.y),
          stroke: colourOf(shape.ink),
          strokeWidth: shape.width,
        },
      };
    case "run":
      return {
        tag: "path",
        attributes: {
          d: pathOf(shape.points),
          fill: "none",
          stroke: colourOf(shape.ink),
          strokeWidth: shape.width,
          strokeLinejoin: "round",
        },
      };
    case "area":
      return {
        tag: "path",
        attributes: {
          d: `${pathOf(shape.corners)} Z`,
          fill: colourOf(shape.fill),
          ...(shape.depth === undefined ? {} : { fillOpacity: shape.depth }),
          ...(shape.edge === undefined
            ? {}
            : { stroke: colourOf(shape.edge), strokeWidth: shape.edgeWidth ?? 1 }),
        },
      };
    case "dot":
      return {
        tag: "circle",
        attributes: {
          cx: tenth(shape.at.x),
          cy: tenth(shape.at.y),
          r: shape.radius,
          fill: colourOf(shape.fill),
          stroke: colourOf(shape.edge),
          strokeWidth: shape.edgeWidth,
        },
      };
    case "text":
      return {
        tag: "text",
        attributes: {
          x: tenth(shape.at.x),
          y: tenth(shape.at.y),
          fill: colourOf(shape.ink),
          fontSize: shape.size,
          textAnchor: shape.anchor,
          ...(shape.bold === true ? { fontWeight: 600 } : {}),
        },
        words: shape.words,
      };
  }
}

const tenth = (value: number) => Math.round(10 * value) / 10;

const pathOf = (corners: readonly At[]): string =>
  corners.map(({ x, y }, place) => `${place === 0 ? "M" : "L"}${tenth(x)} ${tenth(y)}`).join(" ");
