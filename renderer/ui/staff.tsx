import { useEffect, useRef } from "react";
import type { StaffLine } from "../../core/exercise/exercise-abc.ts";

/** Where a note stands on its line, in pixels from the line's left edge. */
export interface NoteSpan {
  readonly left: number;
  readonly right: number;
}

interface StaffProps {
  readonly line: StaffLine;
  readonly width: number;
  /** Read aloud instead of the picture. */
  readonly label: string;
  /** Index of the note sounding now, or null. */
  readonly now: number | null;
  readonly onSpans: (spans: readonly NoteSpan[]) => void;
}

const SCALE = 1.4;
/** Room kept left of a note head, so that its box begins a little before it. */
const BEFORE_HEAD = 8;

/** One line of music, drawn by abcjs. */
export function Staff({ line, width, label, now, onSpans }: StaffProps) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let left = false;
    void drawStaff(line.abc, width).then((drawing) => {
      if (left || box.current === null) return;
      box.current.replaceChildren(drawing);
      onSpans(measureSpans(box.current, width, line.to - line.from));
    });
    return () => {
      left = true;
    };
  }, [line, width, onSpans]);
  useEffect(() => {
    const notes = box.current?.querySelectorAll(".abcjs-note") ?? [];
    for (const [place, note] of [...notes].entries()) note.classList.toggle("now", line.from + place === now);
  }, [line, now]);
  return <div className="staff" role="img" aria-label={label} ref={box} />;
}

/**
 * Draws outside the document first: abcjs puts a style element into its picture, which the content security policy
 * would refuse and report; it only concerns dragging notes, so it is taken out.
 */
async function drawStaff(abc: string, width: number): Promise<DocumentFragment> {
  const { default: abcjs } = await import("abcjs");
  const paper = document.createElement("div");
  abcjs.renderAbc(paper, abc, {
    add_classes: true,
    staffwidth: width - 2,
    scale: SCALE,
    // Every line fills the width, also one that stands alone.
    format: { stretchlast: true },
    paddingtop: 0,
    paddingbottom: 0,
    paddingleft: 0,
    paddingright: 0,
  });
  for (const style of paper.querySelectorAll("style")) style.remove();
  for (const title of paper.querySelectorAll("title")) title.remove();
  for (const svg of paper.querySelectorAll("svg")) svg.setAttribute("aria-hidden", "true");
  const drawing = document.createDocumentFragment();
  drawing.append(...paper.childNodes);
  return drawing;
}

function measureSpans(box: HTMLElement, width: number, count: number): readonly NoteSpan[] {
  const origin = box.getBoundingClientRect().left;
  const heads = [...box.querySelectorAll(".abcjs-note")].map(
    (note) => note.getBoundingClientRect().left - origin,
  );
  if (heads.length !== count) return evenSpans(width, count);
  return heads.map((head, place) => ({
    left: head - BEFORE_HEAD,
    right: (heads[place + 1] ?? width) - BEFORE_HEAD,
  }));
}

/** Spans for a line whose picture cannot be measured: equal shares of its width. */
export function evenSpans(width: number, count: number): readonly NoteSpan[] {
  return Array.from({ length: count }, (_, place) => ({
    left: (place * width) / count,
    right: ((place + 1) * width) / count,
  }));
}
