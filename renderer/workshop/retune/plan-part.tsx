import { useMemo } from "react";
import { benchSheet } from "../../../core/workshop/retune/bench-sheet.ts";
import type { RetuningPlan } from "../../../core/workshop/retune/retuning-plan.ts";
import { planInWords } from "../../../core/workshop/retune/retuning-words.ts";
import { useWriting } from "../../ui/writing.ts";
import { BenchSheetPaper } from "./bench-sheet-paper.tsx";
import { PlanHarp } from "./plan-harp.tsx";
import { PlanTable } from "./plan-table.tsx";
import { SheetNotes } from "./sheet-notes.tsx";

interface PlanPartProps {
  readonly plan: RetuningPlan;
  /** Begins the work on the harp; null where there is none to write it down for. */
  readonly begins: (() => void) | null;
  readonly whyNotBegun: string;
}

/** The plan: in a sentence, on the harp, and in the order of the work. */
export function PlanPart({ plan, begins, whyNotBegun }: PlanPartProps) {
  const sheet = useMemo(() => benchSheet(plan), [plan]);
  const { say } = useWriting();
  const isWork = plan.sums.worked > 0;
  return (
    <section className="plan-of-retuning" aria-labelledby="plan-sentence">
      <div role="status">
        <h2 id="plan-sentence" className="plan-sentence">
          {say(planInWords(plan))}
        </h2>
      </div>
      {plan.sums.swapped > 0 && (
        <p>
          Reeds to swap come from another harp. One nearer to what is wanted may need none: see below which to
          buy.
        </p>
      )}
      <PlanHarp plan={plan} />
      {isWork && <PlanTable plan={plan} sheet={sheet} />}
      <p className="row">
        <button type="button" className="main" onClick={() => window.print()}>
          Print the bench sheet
        </button>
        {isWork && begins !== null && (
          <button type="button" onClick={begins}>
            Begin this work
          </button>
        )}
        {isWork && begins === null && <span className="soft">{whyNotBegun}</span>}
      </p>
      <SheetNotes sheet={sheet} />
      <BenchSheetPaper sheet={sheet} />
    </section>
  );
}
