import { useId, useMemo } from "react";
import type { HistoryLine } from "../store/history-store.ts";
import { ListChoice } from "../ui/choice.tsx";
import { useWriting } from "../ui/writing.ts";
import { EVERYTHING, type HistoryFilter, harpAndPosition } from "./history-filter.ts";

interface FilterPartProps {
  readonly lines: readonly HistoryLine[];
  readonly filter: HistoryFilter;
  readonly knowsTechniques: boolean;
  readonly onFilter: (filter: HistoryFilter) => void;
}

const TECHNIQUES = ["bend", "overblow", "overdraw"] as const;

/** Which attempts are shown: by title, harp, position, technique and day. */
export function FilterPart({ lines, filter, knowsTechniques, onFilter }: FilterPartProps) {
  const { say } = useWriting();
  const { harps, positions } = useMemo(() => {
    const both = lines.map(harpAndPosition);
    return {
      harps: [...new Set(both.map(({ harp }) => harp))].sort(),
      positions: [...new Set(both.map(({ position }) => position).filter((one) => one !== ""))].sort((a, b) =>
        a.localeCompare(b, "en", { numeric: true }),
      ),
    };
  }, [lines]);
  const among = (all: string, some: readonly string[]) => [
    ["", all] as const,
    ...some.map((one) => [one, say(one)] as const),
  ];
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
        options={among("any", harps)}
        onChange={(harp) => onFilter({ ...filter, harp })}
      />
      <ListChoice
        legend="Position"
        value={filter.position}
        options={among("any", positions)}
        onChange={(position) => onFilter({ ...filter, position })}
      />
      {knowsTechniques && (
        <ListChoice
          legend="With"
          value={filter.technique}
          options={among("any technique", TECHNIQUES)}
          onChange={(technique) => onFilter({ ...filter, technique })}
        />
      )}
      <Field
        words="From"
        type="date"
        value={filter.from}
        onChange={(from) => onFilter({ ...filter, from })}
      />
      <Field words="To" type="date" value={filter.to} onChange={(to) => onFilter({ ...filter, to })} />
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
