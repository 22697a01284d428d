import { useId } from "react";
import { positionName } from "../../core/instrument/positions.ts";
import type { Facets } from "../store/history-store.ts";
import { ListChoice } from "../ui/choice.tsx";
import { useWriting } from "../ui/writing.ts";
import { EVERYTHING, type HistoryFilter } from "./history-filter.ts";

interface FilterPartProps {
  /** What there are attempts of. */
  readonly facets: Pick<Facets, "harps" | "positions" | "techniques">;
  readonly filter: HistoryFilter;
  readonly onFilter: (filter: HistoryFilter) => void;
}

/** Every attempt has plain notes: asking for them would ask for nothing. */
const ASKED_FOR_ITSELF = (technique: string) => technique !== "plain";

/** Which attempts are shown: by title, harp, position, technique, day and star. */
export function FilterPart({ facets, filter, onFilter }: FilterPartProps) {
  const { say } = useWriting();
  const among = (all: string, some: readonly (readonly [string, string])[]) => [["", all] as const, ...some];
  return (
    <div className="row">
      <Field
        words="Drill or tune"
        type="search"
        value={filter.title}
        onChange={(title) => onFilter({ ...filter, title })}
      />
      <ListChoice
        legend="Harp"
        value={filter.harp}
        options={among(
          "any",
          facets.harps.map((harp) => [harp, say(harp)] as const),
        )}
        onChange={(harp) => onFilter({ ...filter, harp })}
      />
      <ListChoice
        legend="Position"
        value={filter.position}
        options={among(
          "any",
          facets.positions.map((position) => [String(position), positionName(position)] as const),
        )}
        onChange={(position) => onFilter({ ...filter, position })}
      />
      <ListChoice
        legend="With"
        value={filter.technique}
        options={among(
          "any technique",
          facets.techniques.filter(ASKED_FOR_ITSELF).map((one) => [one, `${one}s`] as const),
        )}
        onChange={(technique) => onFilter({ ...filter, technique })}
      />
      <Field
        words="From"
        type="date"
        value={filter.from}
        onChange={(from) => onFilter({ ...filter, from })}
      />
      <Field words="To" type="date" value={filter.to} onChange={(to) => onFilter({ ...filter, to })} />
      <label className="starred-alone">
        <input
          type="checkbox"
          checked={filter.starred}
          onChange={(event) => onFilter({ ...filter, starred: event.target.checked })}
        />
        with a star
      </label>
      <button type="button" onClick={() => onFilter(EVERYTHING)}>
        Show all
      </button>
    </div>
  );
}

interface FieldProps {
  readonly words: string;
  readonly type: "search" | "date";
  readonly value: string;
  readonly onChange: (value: string) => void;
}

function Field({ words, type, value, onChange }: FieldProps) {
  const id = useId();
  return (
    <div className="choice">
      <label htmlFor={id}>{words}</label>
      <input id={id} type={type} value={value} onChange={(event) => onChange(event.target.value)} />
    </div>
  );
}
