import { useId } from "react";

interface TextChoiceProps {
  readonly legend: string;
  readonly value: string;
  readonly placeholder?: string;
  /** Longest text. */
  readonly most: number;
  /** How it is written, said when it cannot be read; null, or not said, when it can. */
  readonly trouble?: string | null;
  readonly onChange: (value: string) => void;
}

/** A line the player types. What cannot be read stays in the field, and is said to be so. */
export function TextChoice({ legend, value, placeholder, most, trouble = null, onChange }: TextChoiceProps) {
  const id = useId();
  return (
    <div className="choice">
      <label htmlFor={id}>{legend}</label>
      <input
        id={id}
        type="text"
        value={value}
        placeholder={placeholder}
        maxLength={most}
        autoComplete="off"
        aria-invalid={trouble !== null}
        aria-describedby={trouble === null ? undefined : `${id}-how`}
        onChange={(event) => onChange(event.target.value)}
      />
      {trouble !== null && (
        <span id={`${id}-how`} className="soft">
          {trouble}
        </span>
      )}
    </div>
  );
}
