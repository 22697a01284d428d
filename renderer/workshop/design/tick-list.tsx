interface TickListProps {
  readonly legend: string;
  /** Said where there is nothing to tick. */
  readonly none: string;
  readonly ticked: readonly string[];
  readonly options: readonly (readonly [value: string, words: string])[];
  readonly onChange: (ticked: readonly string[]) => void;
}

/** Any of some things. */
export function TickList({ legend, none, ticked, options, onChange }: TickListProps) {
  return (
    <fieldset className="choice tick-list">
      <legend>
        {legend}
        {ticked.length > 0 && <span className="soft"> ({ticked.length})</span>}
      </legend>
      {options.length === 0 && <p className="soft">{none}</p>}
      {options.map(([value, words]) => (
        <label key={value}>
          <input
            type="checkbox"
            checked={ticked.includes(value)}
            onChange={(event) =>
              onChange(event.target.checked ? [...ticked, value] : ticked.filter((one) => one !== value))
            }
          />{" "}
          {words}
        </label>
      ))}
    </fieldset>
  );
}
