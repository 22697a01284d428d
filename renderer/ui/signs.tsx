import { noteName } from "../../core/pitch/note-names.ts";
import type { Hold, Mark, Slide } from "../../core/score/attempt.ts";
import { slipInWords } from "../../core/score/slip-words.ts";

/** Pixels a cent takes in the pitch strip, and how far the strip shows. */
export const PIXELS_PER_CENT = 0.55;
export const STRIP_CENTS = 60;

/**
 * What a mark says in words, numbers with their units.
 *
 * @param spelling note names of the exercise's home and mode, by which a heard note is called
 */
export function markInWords(mark: Mark, spelling: readonly string[]): string {
  switch (mark.verdict) {
    case "missed":
      return "missed";
    case "not measured":
      return `not measured: ${mark.reason ?? "no steady pitch"}`;
    case "wrong": {
      if (mark.chord !== undefined) return wrongHoles(mark);
      const heard = mark.heardMidi === null ? "" : `: heard ${noteName(mark.heardMidi, spelling)}`;
      const reeds = mark.heardAs.length === 0 ? "" : ` (${mark.heardAs.join(" or ")})`;
      return `wrong${heard}${reeds}${mark.diagnosis === null ? "" : `; ${slipInWords(mark.diagnosis)}`}`;
    }
    case "hit": {
      const judged = ["right", mark.intonation, mark.timing, mark.reason].filter((word) => word !== null);
      const slip = mark.diagnosis === null ? "" : `; ${slipInWords(mark.diagnosis)}`;
      return `${judged.join(", ")}${slip}`;
    }
  }
}

/** "wrong holes: heard -345; neighbour hole: -345 instead of -234". */
function wrongHoles({ heardAs, diagnosis }: Mark): string {
  return `wrong holes: heard ${heardAs.join(" or ")}${diagnosis === null ? "" : `; ${slipInWords(diagnosis)}`}`;
}

/** What a right note's pitch did besides being where it was: slides, the hold, a second reed, the reed's own offset. */
export function shapeInWords(mark: Mark): readonly string[] {
  const { scoop, fall, hold, secondReed, reedCents } = mark;
  return [
    scoop === null ? null : `slides in ${slideInWords(scoop)}`,
    fall === null ? null : `ends ${slideInWords(fall)}`,
    hold === null ? null : holdInWords(hold),
    secondReed?.tab == null ? null : `${secondReed.tab} sounds along at ${secondReed.levelDb.toFixed(0)} dB`,
    reedCents === null ? null : youAndTheReed(mark.cents, reedCents),
  ].filter((words) => words !== null);
}

/** What the player adds to where the reed lies by itself. */
function youAndTheReed(cents: number | null, reedCents: number): string {
  const you = cents === null ? "" : `you ${signedCents(cents)}, `;
  return `${you}the reed ${signedCents(reedCents)}`;
}

function slideInWords({ cents, ms }: Slide): string {
  return `${Math.abs(cents).toFixed(0)} cents ${cents < 0 ? "low" : "high"} over ${ms.toFixed(0)} ms`;
}

function holdInWords({ lengthSeconds, driftCents, steadinessCents, breaks }: Hold): string {
  const broken = breaks === 0 ? "" : `, broken off ${breaks === 1 ? "once" : `${breaks} times`}`;
  return `held ${lengthSeconds.toFixed(1)} s, drift ${signedCents(driftCents)}, unsteady by ${steadinessCents.toFixed(1)} cents${broken}`;
}

function signedCents(value: number): string {
  const text = Math.abs(value).toFixed(1);
  if (Number(text) === 0) return "0 cents";
  return `${value > 0 ? "+" : "−"}${text} cents`;
}

interface SignProps {
  readonly mark: Pick<Mark, "verdict" | "cents" | "intonation">;
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
