import { walkRows } from "../../ui/walk-rows.ts";
import type { DesignAnswer, DesignRow } from "./design-messages.ts";
import { shareInWords } from "./gain-words.ts";

interface LineTableProps {
  readonly answer: Extract<DesignAnswer, { kind: "found" }>;
  readonly chosen: DesignRow;
  readonly onChoose: (row: DesignRow) => void;
}

const percent = (part: number, whole: number) =>
  whole === 0 ? "0 %" : `${((100 * part) / whole).toFixed(1)} %`;

/** The layouts found, fewest changes first, beside the harp begun with. */
export function LineTable({ answer, chosen, onChoose }: LineTableProps) {
  const { start, rows, notes } = answer;
  const withTunes = notes > 0;
  const bestEffort = start.tunes?.effort ?? 0;
  return (
    <div className="wide-table">
      <table className="line-table">
        <caption className="only-read-aloud">Layouts found; the buttons open one</caption>
        <thead>
          <tr>
            <th scope="col">Layout</th>
            <th scope="col">Reeds changed</th>
            <th scope="col">Semitones in all</th>
            {withTunes && <th scope="col">Notes not plain</th>}
            {withTunes && <th scope="col">of them missing</th>}
            {withTunes && <th scope="col">Breath effort</th>}
            <th scope="col">Four keys play</th>
          </tr>
        </thead>
        <tbody onKeyDown={walkRows}>
          <tr>
            <th scope="row">{start.layout.name}, as it is</th>
            <Figures row={start} notes={notes} bestEffort={bestEffort} />
          </tr>
          {shownOf(rows).map((row) => (
            <tr key={row.layout.id} className={row === chosen ? "chosen" : undefined}>
              <th scope="row">
                <button
                  type="button"
                  className="open"
                  aria-pressed={row === chosen}
                  onClick={() => onChoose(row)}
                >
                  {row.changed === 0
                    ? "nothing changed"
                    : row.layout.name.slice(start.layout.name.length + 2)}
                </button>
              </th>
              <Figures row={row} notes={notes} bestEffort={bestEffort} />
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The start stands above already, unless nothing else was found. */
function shownOf(rows: readonly DesignRow[]): readonly DesignRow[] {
  const changed = rows.filter((row) => row.changed > 0);
  return changed.length > 0 ? changed : rows;
}

interface FiguresProps {
  readonly row: DesignRow;
  readonly notes: number;
  readonly bestEffort: number;
}

function Figures({ row, notes, bestEffort }: FiguresProps) {
  const { tunes } = row;
  return (
    <>
      <td>{row.changed}</td>
      <td>{row.moved}</td>
      {tunes !== null && (
        <td>
          {Math.round(tunes.notPlain)} <span className="soft">{percent(tunes.notPlain, notes)}</span>
        </td>
      )}
      {tunes !== null && <td>{Math.round(tunes.missing)}</td>}
      {tunes !== null && (
        <td>
          {Math.round(tunes.effort)}{" "}
          <span className="soft">{percent(tunes.effort, bestEffort === 0 ? tunes.effort : bestEffort)}</span>
        </td>
      )}
      <td>{row.keys === null ? "–" : shareInWords(row.keys)}</td>
    </>
  );
}
