import { useMemo, useRef, useState } from "react";
import type { Harp } from "../../../core/instrument/harp.ts";
import type { PracticeDay } from "../../../core/progress/practice-day.ts";
import { benchSheet } from "../../../core/workshop/retune/bench-sheet.ts";
import {
  harpOfRepair,
  nextPassOn,
  passDone,
  passNow,
  passUndone,
  planOfRepair,
  type Repair,
  withRepairReading,
} from "../../../core/workshop/retune/repair.ts";
import type { RetuningPlan } from "../../../core/workshop/retune/retuning-plan.ts";
import { planInWords, wayInWords } from "../../../core/workshop/retune/retuning-words.ts";
import { longDay } from "../../ui/day-words.ts";
import { useWriting } from "../../ui/writing.ts";
import { BenchSheetPaper } from "./bench-sheet-paper.tsx";
import { RepairTable } from "./repair-table.tsx";
import { SheetNotes } from "./sheet-notes.tsx";

interface RepairPartProps {
  readonly repair: Repair;
  readonly today: () => PracticeDay;
  readonly onChange: (repair: Repair) => void;
  /** The work is done: the harp is another one now. */
  readonly onDone: (repair: Repair, harp: Harp) => void;
  readonly onGiveUp: () => void;
  readonly onLeave: () => void;
}

/** Work on a harp: what was read before and in each pass, what the meter should read, and when to go on. */
export function RepairPart(props: RepairPartProps) {
  const { today, onChange, onDone, onLeave } = props;
  const { say } = useWriting();
  // What is written stands here at once; two readings written quickly must not wait for the database.
  const [repair, setRepair] = useState(props.repair);
  const latest = useRef(repair);
  const change = (how: (before: Repair) => Repair) => {
    latest.current = how(latest.current);
    setRepair(latest.current);
    onChange(latest.current);
  };
  const plan = useMemo(() => planOfRepair(repair), [repair]);
  const sheet = useMemo(() => (plan === null ? null : benchSheet(plan)), [plan]);
  if (plan === null || sheet === null)
    return (
      <p className="notice" role="alert">
        This work has no plan any more.{" "}
        <button type="button" onClick={onLeave}>
          Back to the plans
        </button>
      </p>
    );
  return (
    <section className="plan-of-retuning" aria-labelledby="repair-title">
      <p>
        <button type="button" onClick={onLeave}>
          Back to the plans
        </button>
      </p>
      <h2 id="repair-title" className="plan-sentence">
        {say(wayInWords(repair.from, repair.to))}
      </h2>
      <p>{planInWords(plan)}</p>
      <PassState repair={repair} plan={plan} today={today()} />
      <RepairTable
        repair={repair}
        plan={plan}
        onRead={(of, place, read) => change((before) => withRepairReading(before, of, place, read))}
      />
      <p className="row">
        {passNow(repair) !== null && (
          <button
            type="button"
            className="main"
            onClick={() => change((before) => passDone(before, today()))}
          >
            Pass {passNow(repair)} is done
          </button>
        )}
        {passNow(repair) === null && (
          <button
            type="button"
            className="main"
            onClick={() => onDone({ ...repair, doneOn: today() }, harpOfRepair(repair, plan))}
          >
            The work is done: this harp is the wanted one
          </button>
        )}
        {repair.passes.length > 0 && (
          <button type="button" onClick={() => change(passUndone)}>
            Take pass {repair.passes.length} back
          </button>
        )}
        <button type="button" onClick={() => window.print()}>
          Print the bench sheet
        </button>
        <GiveUp onGiveUp={props.onGiveUp} />
      </p>
      <SheetNotes sheet={sheet} />
      <BenchSheetPaper sheet={sheet} />
    </section>
  );
}

interface PassStateProps {
  readonly repair: Repair;
  readonly plan: RetuningPlan;
  readonly today: PracticeDay;
}

/** Which pass it is, and whether the harp still rests. */
function PassState({ repair, plan, today }: PassStateProps) {
  const pass = passNow(repair);
  if (pass === null)
    return <p role="status">All passes are done. Read the reeds again in a week, and play the harp.</p>;
  const from = nextPassOn(repair, plan);
  const rests = from !== null && from > today;
  return (
    <p role="status" className={rests ? "notice" : undefined}>
      Pass {pass} of {repair.rules.passes}
      {rests && `: the harp rests until ${longDay(from)}`}.
    </p>
  );
}

function GiveUp({ onGiveUp }: Pick<RepairPartProps, "onGiveUp">) {
  const [asked, setAsked] = useState(false);
  if (!asked)
    return (
      <button type="button" onClick={() => setAsked(true)}>
        Delete this log …
      </button>
    );
  return (
    <span className="row">
      What was read will be gone.
      <button type="button" onClick={onGiveUp}>
        Delete it
      </button>
      <button type="button" onClick={() => setAsked(false)}>
        Leave it
      </button>
    </span>
  );
}
