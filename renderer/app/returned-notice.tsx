import { useState } from "react";
import type { BroughtBack } from "./bringing-back.tsx";

/** Says that the history was damaged and came back: otherwise nobody would know how near it was to being lost. */
export function ReturnedNotice({ returned }: { readonly returned: BroughtBack }) {
  const [isTold, setTold] = useState(returned.attempts + returned.left === 0);
  if (isTold) return null;
  return (
    <aside className="notice row" aria-label="History brought back">
      <span role="status">The history was damaged on the disk. {inWords(returned)}</span>
      <button type="button" onClick={() => setTold(true)}>
        I have read it
      </button>
    </aside>
  );
}

function inWords({ attempts, left, trouble }: BroughtBack): string {
  const counted = (count: number) => (count === 1 ? "1 attempt" : `${count.toLocaleString("en")} attempts`);
  if (left === 0) return `All of it came back out of the second copy: ${counted(attempts)}.`;
  const why = trouble === null ? "" : ` (${trouble})`;
  return `${counted(attempts)} came back out of the second copy so far, ${counted(left)} not yet${why}: open the window again, and the rest comes back.`;
}
