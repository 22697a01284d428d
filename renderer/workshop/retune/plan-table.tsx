import type { BenchSheet, SheetRow } from "../../../core/workshop/retune/bench-sheet.ts";
import type { RetuningPlan } from "../../../core/workshop/retune/retuning-plan.ts";
import { useWriting } from "../../ui/writing.ts";

interface PlanTableProps {
  readonly plan: RetuningPlan;
  readonly sheet: BenchSheet;
}

/** The reeds to work on, the safest first, and what the meter should read after each pass. */
export function PlanTable({ plan, sheet }: PlanTableProps) {
  const rows = sheet.rows.filter(({ order }) => order !== null);
  const others = sheet.rows.filter(({ order }) => order === null).map(({ reed }) => reed);
  const last = plan.passes.at(-1)?.steps.map(({ hole, breath }) => `${hole} ${breath}`) ?? [];
  const isOtherOrder = last.join() !== rows.map(({ reed }) => reed).join();
  return (
    <div className="plan-table">
      <p className="soft">
        In the order of the work. Aims are cents from the wanted note, by a meter on A {plan.to.a4} Hz.
      </p>
      <table aria-label="The reeds in the order of the work">
        <thead>
          <tr>
            <th scope="col">
              <span className="only-read-aloud">order</span>
            </th>
            <th scope="col">reed</th>
            <th scope="col">now</th>
            <th scope="col">wanted</th>
            <th scope="col" className="number">
              cents
            </th>
            <th scope="col">work</th>
            {sheet.passes.map(({ name, rest }) => (
              <th key={name} scope="col" className="number">
                {name}
                {rest !== "" && <span className="rest">then {rest}</span>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <PlanRow key={row.reed} row={row} />
          ))}
        </tbody>
      </table>
      {isOtherOrder && <p>In the last pass: {last.join(", ")}. Octaves and unisons come last.</p>}
      {others.length > 0 && <p className="soft">{othersInWords(others)}</p>}
    </div>
  );
}

function PlanRow({ row }: { readonly row: SheetRow }) {
  const { note } = useWriting();
  return (
    <tr>
      <td className="number">{row.order}</td>
      <th scope="row">{row.reed}</th>
      <td>{note(row.noteNow)}</td>
      <td>{note(row.noteWanted)}</td>
      <td className="number">{row.change}</td>
      <td>{row.work}</td>
      {row.aims.map((aim, place) => (
        // A pass is known by its place.
        // biome-ignore lint/suspicious/noArrayIndexKey: passes have no other name and never move
        <td key={place} className="number">
          {aim ?? "read it"}
        </td>
      ))}
    </tr>
  );
}

/** Beyond so many their names say less than their number. */
const MOST_NAMED = 8;

function othersInWords(others: readonly string[]): string {
  if (others.length <= MOST_NAMED) return `As they are: ${others.join(", ")}.`;
  return `The other ${others.length} reeds stay as they are.`;
}
