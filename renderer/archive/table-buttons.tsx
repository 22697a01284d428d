import type { AttemptFilter } from "../store/history-store.ts";
import { BusyLine } from "../ui/busy-line.tsx";
import { TABLE_TYPE } from "./archive-name.ts";
import type { ArchiveWork } from "./archive-work.ts";
import { openFile } from "./sink.ts";
import type { TableOf } from "./table-texts.ts";
import { savedState, useRun } from "./use-run.ts";

interface TableButtonsProps {
  readonly work: Pick<ArchiveWork, "saveTable">;
  /** Of a file saved now. */
  readonly name: (of: TableOf) => string;
  /** Which attempts. */
  readonly filter: AttemptFilter;
}

/** The attempts found, or all their notes, as a table for other programs. */
export function TableButtons({ work, name, filter }: TableButtonsProps) {
  const { state, run, stop } = useRun();
  if (state.kind === "busy") return <BusyLine words={state.words} share={state.share} onStop={stop} />;
  const save = (of: TableOf) =>
    run(`Saving a table of ${of}`, "Stopped. No table was saved.", async (long) => {
      const opened = await openFile(name(of), TABLE_TYPE);
      if (opened.kind !== "open") return savedState(opened);
      return savedState(await work.saveTable(of, filter, opened.sink, long));
    });
  return (
    <div className="row table-buttons">
      <span className="soft">As a table (CSV):</span>
      <button type="button" onClick={() => save("attempts")}>
        these attempts
      </button>
      <button type="button" onClick={() => save("notes")}>
        all their notes
      </button>
      {state.kind === "said" && <span role="status">{state.words}</span>}
      {state.kind === "trouble" && <span role="alert">{state.words}</span>}
    </div>
  );
}
