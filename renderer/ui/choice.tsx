import { useId, useState } from "react";

interface ChoiceProps<T extends string | number> {
  readonly legend: string;
  readonly value: T;
  readonly options: readonly (readonly [value: T, words: string])[];
  readonly onChange: (value: T) => void;
}

/** A row of radio buttons: all answers in sight, arrow keys move between them. */
export function RadioChoice<T extends string | number>({ legend, value, options, onChange }: ChoiceProps<T>) {
  const name = useId();
  return (
    <fieldset className="choice">
      <legend>{legend}</legend>
      <div className="row">
        {options.map(([option, words]) => (
          <label key={option}>
            <input type="radio" name={name} checked={option === value} onChange={() => onChange(option)} />
            {words}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** A list that opens: for more answers than fit a row. */
export function ListChoice<T extends string | number>({ legend, value, options, onChange }: ChoiceProps<T>) {
  const id = useId();
  return (
    <div className="choice">
      <label htmlFor={id}>{legend}</label>
      <select
        id={id}
        value={String(value)}
        onChange={(event) => {
          const chosen = options.find(([option]) => String(option) === event.target.value);
          if (chosen !== undefined) onChange(chosen[0]);
        }}
      >
        {options.map(([option, words]) => (
          <option key={option} value={String(option)}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

interface NumberChoiceProps {
  readonly legend: string;
  readonly unit: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly step: number;
  readonly onChange: (value: number) => void;
}

/** A number with its unit. A half-typed or impossible number stays in the field but is not taken over. */
export function NumberChoice({ legend, unit, value, low, high, step, onChange }: NumberChoiceProps) {
  const id = useId();
  const [text, setText] = useState(String(value));
  const [shown, setShown] = useState(value);
  if (shown !== value) {
    // Changed from outside: the field follows, unless it already says so in other digits.
    setShown(value);
    if (Number(text) !== value) setText(String(value));
  }
  const fits = text.trim() !== "" && Number(text) >= low && Number(text) <= high;
  return (
    <div className="choice">
      <label htmlFor={id}>
        {legend} <span className="soft">({unit})</span>
      </label>
      <input
        id={id}
        type="number"
        min={low}
        max={high}
        step={step}
        value={text}
        aria-invalid={!fits}
        aria-describedby={fits ? undefined : `${id}-limits`}
        onBlur={() => setText(String(value))}
        onChange={(event) => {
          setText(event.target.value);
          const typed = event.target.valueAsNumber;
          if (typed >= low && typed <= high) onChange(typed);
        }}
      />
      {!fits && (
        <span id={`${id}-limits`} className="soft">
          from {low} to {high}
        </span>
      )}
    </div>
  );
}
