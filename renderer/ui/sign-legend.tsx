import type { ReactNode } from "react";
import { cents } from "../../core/units.ts";
import { Sign } from "./signs.tsx";

const X = 32;
const MIDDLE = 24;
const LINE = <line className="rule" x1={0} x2={64} y1={MIDDLE} y2={MIDDLE} />;

function sign(mark: Parameters<typeof Sign>[0]["mark"]): ReactNode {
  return (
    <>
      {LINE}
      <Sign mark={mark} x={X} middle={MIDDLE} />
    </>
  );
}

/** Every sign of the marks with what it means. */
export const LEGEND: readonly { readonly words: string; readonly picture: ReactNode }[] = [
  { words: "right", picture: sign({ verdict: "hit", cents: cents(0), intonation: "in tune" }) },
  {
    words: "right, but sharp by that much",
    picture: sign({ verdict: "hit", cents: cents(28), intonation: "sharp" }),
  },
  {
    words: "right, but flat by that much",
    picture: sign({ verdict: "hit", cents: cents(-28), intonation: "flat" }),
  },
  { words: "early", picture: <rect className="off-beat" x={8} y={19} width={24} height={10} /> },
  { words: "late", picture: <rect className="off-beat" x={32} y={19} width={24} height={10} /> },
  {
    words: "wrong; above it what was heard",
    picture: sign({ verdict: "wrong", cents: null, intonation: null }),
  },
  { words: "missed", picture: sign({ verdict: "missed", cents: null, intonation: null }) },
  { words: "not measured", picture: sign({ verdict: "not measured", cents: null, intonation: null }) },
  {
    words: "a note too many",
    picture: <path className="sign cross" d={`M ${X - 8} ${MIDDLE} h 16 m -8 -8 v 16`} />,
  },
];
