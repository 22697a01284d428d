import { useEffect, useRef, useState } from "react";
import type { StaffLine } from "../../core/exercise/exercise-abc.ts";
import { useDisplay } from "./display.ts";
import { drawingTrouble } from "./draw-abc.ts";
import { staffDrawing } from "./staff-drawings.ts";

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

/** Room kept left of a note head, so that its box begins a little before it. */
const BEFORE_HEAD = 8;

/** One line of music, drawn by abcjs. */
export function Staff({ line, width, label, now, onSpans }: StaffProps) {
  const box = useRef<HTMLDivElement>(null);
  const { textScale } = useDisplay();
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    let left = false;
    staffDrawing(line.abc, { width, textScale }).then(
      (drawing) => {
        if (left || box.current === null) return;
        setTrouble(null);
        box.current.replaceChildren(drawing);
        onSpans(measureSpans(box.current, width, line.to - line.from));
      },
      (error: unknown) => {
        if (left) return;
        box.current?.replaceChildren();
        setTrouble(drawingTrouble(error));
        onSpans(evenSpans(width, line.to - line.from));
      },
    );
    return () => {
      left = true;
    };
  }, [line, width, textScale, onSpans]);
  useEffect(() => {
    const notes = box.current?.querySelectorAll(".abcjs-note") ?? [];
    for (const [place, note] of [...notes].entries()) note.classList.toggle("now", line.from + place === now);
  }, [line, now]);
  return (
    <>
      {trouble !== null && (
        <p className="notice" role="alert">
          {trouble} The tab holds.
        </p>
      )}
      <div className="staff" role="img" aria-label={label} ref={box} />
    </>
  );
}

function measureSpans(box: HTMLElement, width: number, count: number): readonly NoteSpan[] {
  const origin = box.getBoundingClientRect().left;
  const heads = [...box.querySelectorAll(".abcjs-note")].map(
    (note) => withoutGraces(note).getBoundingClientRect().left - origin,
  );
  if (heads.length !== count) return evenSpans(width, count);
  return heads.map((head, place) => ({
    left: head - BEFORE_HEAD,
    right: (heads[place + 1] ?? width) - BEFORE_HEAD,
  }));
}

/** A note with its accidental; where grace notes are drawn with it, its own head, which comes first. */
function withoutGraces(note: Element): Element {
  const [own, grace] = note.querySelectorAll(".abcjs-notehead");
  return own === undefined || grace === undefined ? note : own;
}

/** Spans for a line whose picture cannot be measured: equal shares of its width. */
export function evenSpans(width: number, count: number): readonly NoteSpan[] {
  return Array.from({ length: count }, (_, place) => ({
    left: (place * width) / count,
    right: ((place + 1) * width) / count,
  }));
}
