import type { HistoryLine } from "../store/history-store.ts";
import { bytesInWords } from "../ui/bytes.ts";
import { useWriting } from "../ui/writing.ts";
import { StarButton } from "./star-button.tsx";
import { whenInWords } from "./when.ts";

/** What can be done with attempts. */
export interface AttemptActions {
  readonly onOpen: (id: string) => void;
  readonly onStar: (id: string, on: boolean) => void;
  readonly onDelete: (ids: readonly string[]) => void;
}

interface AttemptRowProps extends AttemptActions {
  readonly line: HistoryLine;
  /** Place in the list, from 0. */
  readonly row: number;
  readonly isChosen: boolean;
  readonly onChoose: (id: string, isChosen: boolean) => void;
}

/** One attempt of the list. */
export function AttemptRow(props: AttemptRowProps) {
  const { line, row, isChosen, onChoose, onOpen, onStar, onDelete } = props;
  const { say } = useWriting();
  const title = say(line.title);
  const { notes, intonation, timing } = line.summary;
  return (
    <tr data-row={row} aria-rowindex={row + 2}>
      <td>
        <label className="choose">
          <input
            type="checkbox"
            data-control="choose"
            checked={isChosen}
            onChange={(event) => onChoose(line.id, event.target.checked)}
          />
          <span className="only-read-aloud">Choose {title}</span>
        </label>
      </td>
      <td>
        <time dateTime={new Date(line.atEpochMs).toISOString()}>{whenInWords(line)}</time>
      </td>
      <td>
        <button type="button" className="open" data-control="open" onClick={() => onOpen(line.id)}>
          {title}
        </button>
        <div className="soft">
          {say(line.harp)}, {line.tempo}
          {line.source === "recording" ? ", from a recording" : ""} · {takeInWords(line)}
        </div>
      </td>
      <td data-measure>
        {notes.hit} of {notes.expected - notes.notMeasured}
      </td>
      <td data-measure>{biasAndSpread(intonation.biasCents, intonation.spreadCents, "cents")}</td>
      <td data-measure>{biasAndSpread(timing.biasMs, timing.spreadMs, "ms")}</td>
      <td className="row-actions">
        <StarButton isStarred={line.starred} title={title} onStar={(on) => onStar(line.id, on)} />
        <button type="button" data-control="delete" onClick={() => onDelete([line.id])}>
          Delete<span className="only-read-aloud"> {title}</span>
        </button>
      </td>
    </tr>
  );
}

/** What became of the take. */
function takeInWords({ demo, takeBytes }: Pick<HistoryLine, "demo" | "takeBytes">): string {
  if (demo) return "made up, not yours";
  return takeBytes === null ? "take no longer kept" : `take ${bytesInWords(takeBytes)}`;
}

function biasAndSpread(bias: number | null, spread: number | null, unit: string): string {
  if (bias === null && spread === null) return "not measured";
  const parts = [
    bias === null ? null : `${signed(bias)} ${unit}`,
    spread === null ? null : `± ${spread.toFixed(0)}`,
  ];
  return parts.filter((part) => part !== null).join(" ");
}

function signed(value: number): string {
  const rounded = Math.round(value);
  return rounded > 0 ? `+${rounded}` : String(rounded === 0 ? 0 : rounded);
}
