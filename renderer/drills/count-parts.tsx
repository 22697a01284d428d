import { NumberChoice, RadioChoice } from "../ui/choice.tsx";
import type { DrillChoice } from "./drill-choice.ts";
import { type Part, part } from "./part.ts";

type NumberField = {
  [F in keyof DrillChoice]: number extends DrillChoice[F] ? F : never;
}[keyof DrillChoice];

interface Count {
  readonly legend: string;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
  readonly step: number;
}

/** A question for a number. */
function count(field: NumberField, words: Count): Part {
  return part(
    ({ choice, onChange }) => (
      <NumberChoice {...words} value={choice[field]} onChange={(value) => onChange({ [field]: value })} />
    ),
    field,
  );
}

export const REPEATS = count("repeats", { legend: "Times", unit: "repeats", low: 1, high: 32, step: 1 });
export const TONE = count("toneBeats", { legend: "Each tone", unit: "beats", low: 1, high: 16, step: 1 });
export const REST = count("restBeats", { legend: "Rest after it", unit: "beats", low: 0, high: 16, step: 1 });
export const COUNT = count("count", { legend: "How many", unit: "notes", low: 1, high: 500, step: 1 });
export const LARGEST_LEAP = count("largestLeap", {
  legend: "Widest leap",
  unit: "steps of the scale, 0 for any",
  low: 0,
  high: 100,
  step: 1,
});
export const NOTE_BEATS = count("noteBeats", {
  legend: "Each note",
  unit: "beats",
  low: 0.25,
  high: 16,
  step: 0.25,
});
export const CALL_BEATS = count("callBeats", {
  legend: "Asked before it",
  unit: "beats",
  low: 0,
  high: 16,
  step: 0.25,
});
/** The next order comes from the next number, so that an order can be had again. */
export const ORDER = count("seed", {
  legend: "Order",
  unit: "any number",
  low: 0,
  high: 2 ** 32 - 1,
  step: 1,
});

export const ASKED = part(
  ({ choice, onChange }) => (
    <RadioChoice
      legend="Asked for"
      value={choice.targetAs}
      options={[
        ["name", "by name"],
        ["degree", "by degree"],
        ["heard", "by ear"],
      ]}
      onChange={(targetAs) => onChange({ targetAs })}
    />
  ),
  "targetAs",
);
