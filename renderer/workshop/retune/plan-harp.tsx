import { BREATHS, type Breath } from "../../../core/instrument/layout.ts";
import { reedInWords } from "../../../core/workshop/measure/measure-words.ts";
import { reedNamer } from "../../../core/workshop/retune/reed-names.ts";
import type { PlannedReed } from "../../../core/workshop/retune/reed-work.ts";
import type { RetuningPlan } from "../../../core/workshop/retune/retuning-plan.ts";
import { signedCents, workInWords } from "../../../core/workshop/retune/retuning-words.ts";
import { useDisplay } from "../../ui/display.ts";
import { useWriting } from "../../ui/writing.ts";

/** The harp as it is to be, blow above and draw below: what changes has its sign, its cents and what it was. */
export function PlanHarp({ plan }: { readonly plan: RetuningPlan }) {
  const { mirrored } = useDisplay();
  const holes = plan.to.layout.holes.map((_, index) => index + 1);
  if (mirrored) holes.reverse();
  const [above = "blow", below = "draw"] = BREATHS;
  return (
    <div className="plan-harp-frame">
      <table
        className={holes.length > 12 ? "plan-harp narrow" : "plan-harp"}
        aria-label="The harp, reed by reed"
      >
        <tbody>
          <HarpRow plan={plan} holes={holes} breath={above} />
          <tr>
            <th scope="row">hole</th>
            {holes.map((hole) => (
              <td key={hole} className="hole">
                {hole}
              </td>
            ))}
          </tr>
          <HarpRow plan={plan} holes={holes} breath={below} />
        </tbody>
      </table>
    </div>
  );
}

interface HarpRowProps {
  readonly plan: RetuningPlan;
  readonly holes: readonly number[];
  readonly breath: Breath;
}

function HarpRow({ plan, holes, breath }: HarpRowProps) {
  const names = { now: reedNamer(plan.from), wanted: reedNamer(plan.to) };
  return (
    <tr>
      <th scope="row">{breath}</th>
      {holes.map((hole) => {
        const reed = plan.reeds.find(({ change }) => change.hole === hole && change.breath === breath);
        return <td key={hole}>{reed === undefined ? "–" : <ReedFace reed={reed} names={names} />}</td>;
      })}
    </tr>
  );
}

/** What is done, by shape: raised, lowered, another reed. */
const SIGNS = { leave: "", raise: "▲", lower: "▼", swap: "⇄" } as const;

interface ReedFaceProps {
  readonly reed: PlannedReed;
  readonly names: {
    readonly now: ReturnType<typeof reedNamer>;
    readonly wanted: ReturnType<typeof reedNamer>;
  };
}

function ReedFace({ reed: { change, work }, names }: ReedFaceProps) {
  const { note } = useWriting();
  const [was, is] = [note(names.now(change.noteNow)), note(names.wanted(change.noteWanted))];
  if (work.kind === "leave") return <span className="stays">{is}</span>;
  const cents = signedCents(change.changeCents);
  return (
    <span className="changes">
      <strong>{is}</strong>
      <span aria-hidden="true">
        {SIGNS[work.kind]} {cents}
      </span>
      <span className="soft" aria-hidden="true">
        {was === is ? "" : `was ${was}`}
      </span>
      <span className="only-read-aloud">
        {reedInWords(change)}, from {was}, {cents} cents: {workInWords(work)}
      </span>
    </span>
  );
}
