import { noteName } from "../../core/pitch/note-names.ts";
import type { Mark } from "../../core/score/attempt.ts";

/** Pixels a cent takes in the pitch strip, and how far the strip shows. */
export const PIXELS_PER_CENT = 0.55;
export const STRIP_CENTS = 60;

/** What a mark says in words, numbers with their units. */
export function markInWords(mark: Mark): string {
  switch (mark.verdict) {
    case "missed":
      return "missed";
    case "not measured":
      return `not measured: ${mark.reason ?? "no steady pitch"}`;
    case "wrong": {
      const heard = mark.heardMidi === null ? "" : `: heard ${noteName(mark.heardMidi)}`;
      return `wrong${heard}${mark.heardAs.length === 0 ? "" : ` (${mark.heardAs.join(" or ")})`}`;
    }
    case "hit":
      return ["right", mark.intonation, mark.timing].filter((word) => word !== null).join(", ");
  }
}

interface SignProps {
  readonly mark: Mark;
  readonly x: number;
  /** Height of the target line. */
  readonly middle: number;
}

/** The sign of one mark: shape and place say what it is, colour only repeats it. */
export function Sign({ mark, x, middle }: SignProps) {
  switch (mark.verdict) {
    case "missed":
      return <circle className="sign hollow" cx={x} cy={middle} r={8} />;
    case "not measured":
      return <line className="sign dash" x1={x - 8} y1={middle} x2={x + 8} y2={middle} />;
    case "wrong":
      return <path className="sign cross" d={`M ${x - 8} ${middle - 8} l 16 16 m 0 -16 l -16 16`} />;
    case "hit":
      return <HitSign mark={mark} x={x} middle={middle} />;
  }
}

function HitSign({ mark, x, middle }: SignProps) {
  const cents = mark.cents ?? 0;
  const shown = Math.max(-STRIP_CENTS, Math.min(STRIP_CENTS, cents));
  const y = middle - shown * PIXELS_PER_CENT;
  const off = mark.intonation === "sharp" || mark.intonation === "flat";
  return (
    <g className={off ? "sign off" : "sign"}>
      {off && <line x1={x} y1={middle} x2={x} y2={y} />}
      <circle cx={x} cy={off ? y : middle} r={8} />
    </g>
  );
}
