import { createElement, useId } from "react";
import type { Drawing } from "./drawing.ts";
import { screenInk } from "./inks.ts";
import { svgElement } from "./svg-shape.ts";

/** A drawing on the screen, in the inks of the theme. */
export function Picture({ drawing }: { readonly drawing: Drawing }) {
  const id = useId();
  const { width, height, title, description, shapes } = drawing;
  return (
    <svg
      className="drawn"
      role="img"
      aria-labelledby={`${id}-title`}
      aria-describedby={`${id}-words`}
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
    >
      <title id={`${id}-title`}>{title}</title>
      <desc id={`${id}-words`}>{description}</desc>
      {shapes.map((shape, place) => {
        const { tag, attributes, words } = svgElement(shape, screenInk);
        return createElement(tag, { key: place, ...attributes }, words);
      })}
    </svg>
  );
}
