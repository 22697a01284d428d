import { soundingRange } from "../../../core/instrument/harp.ts";
import { POSITIONS, positionHomeName, positionName } from "../../../core/instrument/positions.ts";
import { MODE_NAMES, spellingOf } from "../../../core/pitch/modes.ts";
import { noteName } from "../../../core/pitch/note-names.ts";
import { midi } from "../../../core/units.ts";
import { ListChoice } from "../../ui/choice.tsx";
import { harpOfChoice } from "../../ui/chosen-harp.ts";
import { useWriting } from "../../ui/writing.ts";
import { type DesignView, MOST_SCALES, nextScale, type ScaleRow } from "./design-view.ts";

interface ScaleRowsProps {
  readonly view: DesignView;
  readonly onView: (view: DesignView) => void;
}

/** Scales that must be whole without bends, each with its range. */
export function ScaleRows({ view, onView }: ScaleRowsProps) {
  const { scales } = view;
  const change = (place: number, next: ScaleRow) =>
    onView({ ...view, triads: [], scales: scales.map((one, index) => (index === place ? next : one)) });
  return (
    <div className="scale-rows">
      {scales.map((row, place) => (
        <OneScale
          // A row has no name but its place.
          // biome-ignore lint/suspicious/noArrayIndexKey: rows are only added at the end or taken out by their place
          key={place}
          view={view}
          row={row}
          number={place + 1}
          onChange={(next) => change(place, next)}
          onRemove={() =>
            onView({ ...view, triads: [], scales: scales.filter((_, index) => index !== place) })
          }
        />
      ))}
      {scales.length === 0 && <p className="soft">No scale: the tunes alone decide.</p>}
      {scales.length < MOST_SCALES && (
        <button type="button" onClick={() => onView({ ...view, scales: [...scales, nextScale(view)] })}>
          Add a scale
        </button>
      )}
    </div>
  );
}

interface OneScaleProps {
  readonly view: DesignView;
  readonly row: ScaleRow;
  readonly number: number;
  readonly onChange: (row: ScaleRow) => void;
  readonly onRemove: () => void;
}

function OneScale({ view, row, number, onChange, onRemove }: OneScaleProps) {
  const { note } = useWriting();
  const harp = harpOfChoice(view.harp, 440);
  const names = spellingOf(positionHomeName(harp, row.position), row.mode);
  const { low, high } = soundingRange(harp);
  const from = Math.min(low - 6, row.low);
  const notes = Array.from({ length: Math.max(high + 6, row.high) - from + 1 }, (_, step) => from + step).map(
    (one) => [one, note(noteName(midi(one), names))] as const,
  );
  return (
    <fieldset className="scale-row">
      <legend>Scale {number}</legend>
      <ListChoice
        legend="Position"
        value={row.position}
        options={POSITIONS.map(
          (position) =>
            [position, `${positionName(position)}, ${note(positionHomeName(harp, position))}`] as const,
        )}
        onChange={(position) => onChange({ ...row, position })}
      />
      <ListChoice
        legend="Mode"
        value={row.mode}
        options={MODE_NAMES.map((mode) => [mode, mode] as const)}
        onChange={(mode) => onChange({ ...row, mode })}
      />
      <ListChoice
        legend="From"
        value={row.low}
        options={notes}
        onChange={(to) => onChange({ ...row, low: to })}
      />
      <ListChoice
        legend="To"
        value={row.high}
        options={notes}
        onChange={(to) => onChange({ ...row, high: to })}
      />
      <button type="button" onClick={onRemove} aria-label={`Take scale ${number} out`}>
        Take out
      </button>
    </fieldset>
  );
}
