import { useId } from "react";

interface TextFieldProps {
  readonly legend: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

/** Long enough for any name, short enough for a line. */
const MOST_LETTERS = 60;

/** A line of text. */
export function TextField({ legend, value, onChange }: TextFieldProps) {
  const id = useId();
  return (
    <div className="choice">
      <label htmlFor={id}>{legend}</label>
      <input
        id={id}
        type="text"
        maxLength={MOST_LETTERS}
        value={value}
        onChange={(event) => onChange(event.target.value)}
      />
    </div>
  );
}
