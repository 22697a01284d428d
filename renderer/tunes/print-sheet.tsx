import { useEffect, useMemo, useRef, useState } from "react";
import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import { tuneSheet } from "../../core/exercise/tune-sheet.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { drawAbc, drawingTrouble, splitByLine } from "../ui/draw-abc.ts";
import { useWriting } from "../ui/writing.ts";

/** Wider than the paper, to which it is shrunk, so that the tab of fast notes has room. */
const DRAWN_PX = 920;
/** Tab that can be read from a stand and does not run together; behind X:, which has to be first. */
const FONTS = "%%vocalfont sans-serif 11\n%%gchordfont sans-serif 12\n%%textfont sans-serif 12\n";

/** The sheet as it is on paper, with its repeats and endings; on the screen it is out of sight. */
export function PrintSheet({ tune, plan }: { readonly tune: Tune; readonly plan: TunePlan }) {
  const writing = useWriting();
  const abc = useMemo(
    () => tuneSheet(tune, plan, writing).replace("\n", `\n${FONTS}`),
    [tune, plan, writing],
  );
  const paper = useRef<HTMLDivElement>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    let left = false;
    drawAbc(abc, { width: DRAWN_PX, scale: 1, whole: true }).then(
      (drawing) => {
        if (left) return;
        setTrouble(null);
        paper.current?.replaceChildren(drawing);
        for (const svg of paper.current?.querySelectorAll("svg") ?? []) splitByLine(svg);
      },
      (error: unknown) => {
        if (!left) setTrouble(drawingTrouble(error));
      },
    );
    return () => {
      left = true;
    };
  }, [abc]);
  return (
    <>
      {trouble !== null && (
        <p className="notice no-print" role="alert">
          The sheet to print: {trouble}
        </p>
      )}
      <div className="print-sheet" aria-hidden="true" ref={paper} />
    </>
  );
}
