import { type KeyboardEvent, useState } from "react";
import { type Cents, cents } from "../../../core/units.ts";
import { type ReedPlace, samePlace } from "../../../core/workshop/measure/reed-reading.ts";
import { reedNamer } from "../../../core/workshop/retune/reed-names.ts";
import { isWithin, type PlannedReed } from "../../../core/workshop/retune/reed-work.ts";
import { passNow, type ReadingOf, type Repair } from "../../../core/workshop/retune/repair.ts";
import { READING_BOUNDS } from "../../../core/workshop/retune/repair-shape.ts";
import type { RetuningPlan } from "../../../core/workshop/retune/retuning-plan.ts";
import { signedCents, workInWords } from "../../../core/workshop/retune/retuning-words.ts";
import { useWriting } from "../../ui/writing.ts";

interface RepairTableProps {
  readonly repair: Repair;
  readonly plan: RetuningPlan;
  readonly onRead: (of: ReadingOf, place: ReedPlace, read: Cents | null) => void;
}

/** Every reed, those worked on first in the order of the pass, with what was read and what should be. */
export function RepairTable({ repair, plan, onRead }: RepairTableProps) {
  const pass = passNow(repair);
  const reeds = useSteadyOrder(plan, pass ?? repair.rules.passes);
  return (
    <div className="plan-table repair-table">
      <p className="soft">
        Cents by a meter on A {plan.to.a4} Hz: before, from the note now; in a pass, from the note wanted.
        Enter goes to the next reed.
      </p>
      <table aria-label="The reeds and what was read of them">
        <thead>
          <tr>
            <th scope="col">reed</th>
            <th scope="col">note</th>
            <th scope="col">work</th>
            <th scope="col">read before</th>
            {repair.passes.map(({ on }, place) => (
              // A pass is known by its place.
              // biome-ignore lint/suspicious/noArrayIndexKey: passes have no other name and never move
              <th key={place} scope="col">
                pass {place + 1}
                <span className="only-read-aloud"> on {on}</span>
              </th>
            ))}
            {pass !== null && (
              <>
                <th scope="col">aim</th>
                <th scope="col">pass {pass}</th>
                <th scope="col">so far</th>
              </>
            )}
          </tr>
        </thead>
        <tbody onKeyDown={nextField}>
          {reeds.map((reed) => (
            <RepairRow
              key={`${reed.change.hole} ${reed.change.breath}`}
              reed={reed}
              repair={repair}
              plan={plan}
              onRead={onRead}
            />
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The reeds in the order of a pass as it was when it began: a reading that is written down moves no row. */
function useSteadyOrder(plan: RetuningPlan, pass: number): readonly PlannedReed[] {
  const [known, setKnown] = useState(() => ({ pass, places: placesIn(plan, pass) }));
  if (known.pass !== pass) setKnown({ pass, places: placesIn(plan, pass) });
  const placeOf = ({ change }: PlannedReed) => {
    const place = known.places.findIndex((one) => samePlace(one, change));
    return place < 0 ? known.places.length : place;
  };
  return [...plan.reeds].sort((one, other) => placeOf(one) - placeOf(other));
}

const placesIn = (plan: RetuningPlan, pass: number): readonly ReedPlace[] =>
  plan.passes[pass - 1]?.steps ?? [];

function RepairRow({ reed, repair, plan, onRead }: RepairTableProps & { readonly reed: PlannedReed }) {
  const { note } = useWriting();
  const { change, work } = reed;
  const { hole, breath } = change;
  const place = { hole, breath };
  const name = `${hole} ${breath}`;
  const [was, is] = [note(reedNamer(plan.from)(change.noteNow)), note(reedNamer(plan.to)(change.noteWanted))];
  const pass = passNow(repair);
  const step = pass === null ? undefined : plan.passes[pass - 1]?.steps.find((one) => samePlace(one, place));
  const read = repair.reading[hole - 1]?.[breath] ?? null;
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{was === is ? is : `${was} to ${is}`}</td>
      <td>{workInWords(work)}</td>
      <td>
        <ReadingField
          label={`${name}, read before, cents`}
          column="before"
          value={repair.before[hole - 1]?.[breath] ?? null}
          onRead={(value) => onRead("before", place, value)}
        />
      </td>
      {repair.passes.map((done, index) => (
        // A pass is known by its place.
        // biome-ignore lint/suspicious/noArrayIndexKey: passes have no other name and never move
        <td key={index} className="number">
          {inCell(done.read[hole - 1]?.[breath] ?? null)}
        </td>
      ))}
      {pass !== null && (
        <>
          <td className="number">
            {step === undefined || step.onlyCheck ? "–" : signedCents(step.aimCents)}
          </td>
          <td>
            <ReadingField
              key={pass}
              label={`${name}, read in pass ${pass}, cents`}
              column="now"
              value={read}
              onRead={(value) => onRead("now", place, value)}
            />
          </td>
          <td>
            {read === null
              ? ""
              : soFar(read, step?.aimCents ?? change.wantedCents, plan.rules.toleranceCents)}
          </td>
        </>
      )}
    </tr>
  );
}

const inCell = (read: Cents | null) => (read === null ? "–" : signedCents(read));

/** How a reading stands to its aim, in words. */
function soFar(read: number, aim: number, tolerance: number): string {
  const off = read - aim;
  if (isWithin(off, tolerance)) return "there";
  return `${Math.round(Math.abs(off))} ${off > 0 ? "sharp" : "flat"}`;
}

interface ReadingFieldProps {
  readonly label: string;
  readonly column: string;
  readonly value: Cents | null;
  readonly onRead: (read: Cents | null) => void;
}

/** A reading as it is typed; kept when the field is left, or by Enter. What is no reading stays in the field. */
function ReadingField({ label, column, value, onRead }: ReadingFieldProps) {
  const [text, setText] = useState(value === null ? "" : String(value));
  const read = readingOf(text);
  const fits = read !== undefined;
  return (
    <input
      type="text"
      inputMode="decimal"
      className="reading"
      aria-label={label}
      aria-invalid={!fits}
      title={
        fits
          ? undefined
          : `a number of cents from ${READING_BOUNDS.low} to ${READING_BOUNDS.high}, or nothing`
      }
      data-column={column}
      value={text}
      onChange={(event) => setText(event.target.value)}
      onBlur={() => fits && read !== value && onRead(read)}
    />
  );
}

/** What was typed, "-12", "+3.5", "4,5"; null for nothing, undefined for what is no reading. */
function readingOf(text: string): Cents | null | undefined {
  const plain = text.trim().replace(",", ".").replace("−", "-");
  if (plain === "") return null;
  const value = /^[-+]?\d*\.?\d+$/.test(plain) ? Number(plain) : Number.NaN;
  return value >= READING_BOUNDS.low && value <= READING_BOUNDS.high ? cents(value) : undefined;
}

/** Enter goes to the next reed's field of the same column: one hand holds the harp. */
function nextField(event: KeyboardEvent<HTMLElement>): void {
  if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
  const { column } = event.target.dataset;
  const fields = [
    ...event.currentTarget.querySelectorAll<HTMLInputElement>(`input[data-column="${column}"]`),
  ];
  const next = fields[fields.indexOf(event.target) + 1];
  event.preventDefault();
  if (next === undefined) event.target.blur();
  else {
    next.focus();
    next.select();
  }
}
