import { type KeyboardEvent, useEffect, useRef, useState, useSyncExternalStore } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { toCsv } from "../../core/score/csv.ts";
import { type RecordingResult, resultsTable } from "../../core/score/recording-results.ts";
import { tempoSign } from "../../core/tune/tempo.ts";
import { fileNameOf } from "../ui/file-name.ts";
import { saveTextFile } from "../ui/save-file.ts";
import { Key, useVerbs } from "../ui/use-verbs.tsx";
import { RECORDING_HEADINGS, RecordingCells } from "./recording-cells.tsx";
import type { MarkerState, RecordingsMarker } from "./recordings-marker.ts";
import "./recordings.css";

interface RecordingsScreenProps {
  readonly exercise: Exercise;
  readonly marker: RecordingsMarker;
  /** Opens the marks of a row on the sheet. */
  readonly onOpen: (at: number) => void;
  /** Back to the sheet. */
  readonly onLeave: () => void;
}

/** What became of many recordings, one row each. */
export function RecordingsScreen({ exercise, marker, onOpen, onLeave }: RecordingsScreenProps) {
  const state = useSyncExternalStore(marker.subscribe, marker.getState);
  const running = state.running !== null;
  useVerbs({ leave: running ? () => marker.stop() : onLeave });
  return (
    <main className="recordings">
      <div className="where">
        <h1>Recordings of {exercise.title}</h1>
        <span>
          {harpName(exercise.harp)} · {tempoSign(exercise.tempo)}
        </span>
      </div>
      <Ways exercise={exercise} marker={marker} state={state} onLeave={onLeave} />
      <p className="soft">
        None of these is in your history: they may be other players'. Open one to see its marks, and to keep
        it.
      </p>
      <Rows state={state} lastOpened={marker.lastOpened} onOpen={onOpen} />
      {state.leftAlone.length > 0 && (
        <p className="soft">Left alone, as they are no recordings: {listed(state.leftAlone)}.</p>
      )}
    </main>
  );
}

const MOST_NAMED = 5;

function listed(names: readonly string[]): string {
  const more = names.length - MOST_NAMED;
  const named = names.slice(0, MOST_NAMED).join(", ");
  return more > 0 ? `${named} and ${more} more` : named;
}

type WaysProps = Pick<RecordingsScreenProps, "exercise" | "marker" | "onLeave"> & {
  readonly state: MarkerState;
};

function Ways({ exercise, marker, state, onLeave }: WaysProps) {
  const [said, setSaid] = useState<string | null>(null);
  const main = useRef<HTMLButtonElement>(null);
  const running = state.running !== null;
  const left = state.rows.filter(({ result }) => result === null).length;
  // One button holds the place and the focus of stopping, going on and saving.
  const save = () => {
    setSaid(null);
    saveTable(exercise, marker.results()).then(setSaid, (error: unknown) =>
      setSaid(`It was not saved: ${error instanceof Error ? error.message : String(error)}`),
    );
  };
  useEffect(() => {
    if (marker.lastOpened === null) main.current?.focus();
  }, [marker]);
  return (
    <>
      <p className="one-sentence" role="status">
        {progressWords(state)}
      </p>
      <div className="row">
        <button type="button" className="main" ref={main} onClick={running ? () => marker.stop() : save}>
          {running ? (
            <>
              Stop <Key verb="leave" />
            </>
          ) : (
            "Save the table (CSV)"
          )}
        </button>
        {!running && left > 0 && (
          <button type="button" onClick={() => void marker.goOn()}>
            Go on with the other {left}
          </button>
        )}
        <button type="button" onClick={onLeave}>
          Back to the sheet {!running && <Key verb="leave" />}
        </button>
        {state.running !== null && (
          <progress
            aria-label="Marking recordings"
            value={state.running.at + state.running.share}
            max={state.rows.length}
          />
        )}
        <span role="status">{said}</span>
      </div>
    </>
  );
}

function progressWords({ rows, running }: MarkerState): string {
  if (running !== null) return `Marking ${running.at + 1} of ${rows.length}: ${rows[running.at]?.name ?? ""}`;
  const marked = rows.filter(({ result }) => result?.kind === "marked").length;
  const not = rows.filter(({ result }) => result?.kind === "not marked").length;
  const left = rows.length - marked - not;
  const parts = [
    `${marked} of ${rows.length} marked`,
    not > 0 ? `${not} could not be` : null,
    left > 0 ? `stopped before the last ${left}` : null,
  ];
  return `${parts.filter((part) => part !== null).join(", ")}.`;
}

/** Spreadsheets take a table for one of the old local letters unless its first sign says Unicode. */
const UNICODE = "\uFEFF";

async function saveTable(exercise: Exercise, results: readonly RecordingResult[]): Promise<string | null> {
  const name = fileNameOf(`${exercise.title} recordings`, "recordings");
  const saved = await saveTextFile(`${name}.csv`, UNICODE + toCsv(resultsTable(results)), "text/csv");
  if (saved.kind === "failed") return saved.reason;
  return saved.kind === "saved" ? `Saved as ${saved.name}.` : null;
}

interface RowsProps extends Pick<RecordingsScreenProps, "onOpen"> {
  readonly state: MarkerState;
  readonly lastOpened: number | null;
}

function Rows({ state, lastOpened, onOpen }: RowsProps) {
  const body = useRef<HTMLTableSectionElement>(null);
  useEffect(() => {
    if (lastOpened !== null)
      body.current?.querySelector<HTMLElement>(`[data-row="${lastOpened}"] button`)?.focus();
  }, [lastOpened]);
  return (
    <table>
      <thead>
        <tr>
          {RECORDING_HEADINGS.map((heading) => (
            <th key={heading} scope="col">
              {heading}
            </th>
          ))}
        </tr>
      </thead>
      <tbody ref={body} onKeyDown={walkRows}>
        {state.rows.map(({ name, result }, at) => (
          // Two recordings may have one name; their places do not change.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          <tr key={at} data-row={at}>
            <th scope="row">
              {result?.kind === "marked" ? (
                <button type="button" className="open" onClick={() => onOpen(at)}>
                  {name}
                </button>
              ) : (
                name
              )}
            </th>
            <RecordingCells result={result} waiting={state.running !== null} />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Arrows walk the rows that can be opened. */
function walkRows(event: KeyboardEvent<HTMLElement>): void {
  const step = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : 0;
  const buttons = [...event.currentTarget.querySelectorAll<HTMLElement>("button.open")];
  const next = buttons[buttons.indexOf(event.target as HTMLElement) + step];
  if (step === 0 || next === undefined) return;
  event.preventDefault();
  next.focus();
}
