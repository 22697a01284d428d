import {
  type DragEvent,
  type KeyboardEvent,
  useDeferredValue,
  useEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { TuneChoices } from "../../core/tune/read-tunes.ts";
import { findTunes } from "../../core/tune/tune-list.ts";
import type { ListedTune } from "../store/tune-store.ts";
import { useDisplay } from "../ui/display.ts";
import { rowsInSight } from "../ui/rows-in-sight.ts";
import { useWriting } from "../ui/writing.ts";
import { MidiChoices } from "./midi-choices.tsx";
import { OwnPart } from "./own-part.tsx";
import { ScoreChoices } from "./score-choices.tsx";
import type { TuneWork } from "./tune-work.ts";
import "./tunes.css";

export type TuneList =
  | { readonly kind: "loading" }
  | { readonly kind: "tunes"; readonly tunes: readonly ListedTune[] }
  | { readonly kind: "trouble"; readonly words: string };

/** A file being brought in, or what became of it. */
export interface Bringing {
  readonly name: string;
  readonly done: number;
  /** 0 while not known. */
  readonly of: number;
  readonly ended: { readonly words: string; readonly leftOut: readonly string[] } | null;
}

/** A file that does not say everything about its tune: a MIDI file, or a score of several parts or voices. */
export interface AskedFile {
  readonly kind: "MIDI" | "score";
  readonly name: string;
  readonly bytes: Uint8Array;
}

interface TunesScreenProps {
  readonly asking: AskedFile | null;
  readonly onKeepAsked: (choices: TuneChoices) => void;
  readonly onLeaveAsked: () => void;
  readonly list: TuneList;
  readonly bringing: Bringing | null;
  readonly query: string;
  readonly isOwn: (tune: ListedTune) => boolean;
  readonly onQuery: (query: string) => void;
  readonly onOpen: (id: string) => void;
  readonly onDelete: (tune: ListedTune) => void;
  readonly onBring: (file: File) => void;
  readonly onStopBringing: () => void;
  readonly onWrite: () => void;
  /** Texts of tunes of the list. */
  readonly onTexts: (ids: readonly string[]) => Promise<readonly string[]>;
  readonly layout: Layout;
  readonly owned: readonly Harp[];
  readonly abilities: Abilities;
  readonly work: TuneWork;
}

/** Which tune? Found as one types. */
export function TunesScreen(props: TunesScreenProps) {
  const { asking, bringing, query, onQuery, onBring, onStopBringing, onWrite } = props;
  const [over, setOver] = useState(false);
  const drop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    const file = event.dataTransfer.files[0];
    if (file !== undefined) onBring(file);
  };
  return (
    <main
      className={over ? "tunes drop-here" : "tunes"}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <h1>Tunes</h1>
      <div className="tune-ways">
        <div className="choice">
          <label htmlFor="tune-query">
            Find <span className="soft">(title, key, metre, dance, or first notes: adfa)</span>
          </label>
          <input
            id="tune-query"
            type="search"
            value={query}
            onChange={(event) => onQuery(event.target.value)}
            onKeyDown={(event) => {
              if (event.key !== "ArrowDown") return;
              event.preventDefault();
              document.querySelector<HTMLElement>(".tune-rows button.open")?.focus();
            }}
          />
        </div>
        <BringButton disabled={bringing !== null && bringing.ended === null} onFile={onBring} />
        <button type="button" onClick={onWrite}>
          Write or paste one
        </button>
      </div>
      {bringing !== null && <BringingLine bringing={bringing} onStop={onStopBringing} />}
      {asking !== null && <Questions {...props} asking={asking} />}
      <ListBody {...props} />
    </main>
  );
}

function Questions({
  asking,
  work,
  onKeepAsked,
  onLeaveAsked,
}: TunesScreenProps & { readonly asking: AskedFile }) {
  const { kind, ...file } = asking;
  const Choices = kind === "MIDI" ? MidiChoices : ScoreChoices;
  return <Choices {...file} work={work} onKeep={onKeepAsked} onLeave={onLeaveAsked} />;
}

function BringButton({ disabled, onFile }: { disabled: boolean; onFile: (file: File) => void }) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" disabled={disabled} onClick={() => input.current?.click()}>
        Bring in a file
      </button>
      <input
        ref={input}
        type="file"
        hidden
        aria-label="File of tunes"
        accept=".abc,.txt,.musicxml,.xml,.mxl,.mid,.midi"
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file !== undefined) onFile(file);
          event.target.value = "";
        }}
      />
    </>
  );
}

function BringingLine({ bringing, onStop }: { bringing: Bringing; onStop: () => void }) {
  const { name, done, of, ended } = bringing;
  if (ended === null) {
    return (
      <p role="status">
        {name}: {of === 0 ? "reading …" : `${done} of ${of} tunes`}{" "}
        <progress
          value={of === 0 ? undefined : done}
          max={of === 0 ? 1 : of}
          aria-label={`Reading ${name}`}
        />{" "}
        <button type="button" onClick={onStop}>
          Stop
        </button>
      </p>
    );
  }
  return (
    <div className="notice" role="status">
      <p>
        {name}: {ended.words}
      </p>
      {ended.leftOut.length > 0 && (
        <ul>
          {ended.leftOut.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

function ListBody(props: TunesScreenProps) {
  const { list, query } = props;
  const late = useDeferredValue(query);
  const tunes = list.kind === "tunes" ? list.tunes : NONE;
  const found = useMemo(() => findTunes(tunes, late), [tunes, late]);
  switch (list.kind) {
    case "loading":
      return <p role="status">Reading the tunes …</p>;
    case "trouble":
      return (
        <p className="notice" role="alert">
          {list.words}
        </p>
      );
    case "tunes":
      return found.length === 0 ? (
        <p>No tune is like that. Try fewer letters, or bring in a file: ABC, MusicXML or MIDI.</p>
      ) : (
        <>
          <OwnPart {...props} count={found.length} onTexts={() => props.onTexts(found.map(({ id }) => id))} />
          <Rows {...props} found={found} />
        </>
      );
  }
}

const NONE: readonly ListedTune[] = [];
/** Height of a row at the usual size of text, as in tunes.css. */
const ROW_PX = 48;

/** The tunes found; of thousands only those in sight stand in the page. */
function Rows({
  found,
  isOwn,
  onOpen,
  onDelete,
}: TunesScreenProps & { readonly found: readonly ListedTune[] }) {
  const { chord } = useWriting();
  const rowPx = ROW_PX * useDisplay().textScale;
  const box = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const wanted = useRef<number | null>(null);
  const height = box.current?.clientHeight ?? 600;
  const { from, to } = rowsInSight(found.length, top, height, rowPx);
  useEffect(() => {
    if (wanted.current === null) return;
    box.current?.querySelector<HTMLElement>(`[data-row="${wanted.current}"] button.open`)?.focus();
    wanted.current = null;
  });
  const walk = (event: KeyboardEvent) => {
    const row = Number((event.target as HTMLElement).closest<HTMLElement>("[data-row]")?.dataset.row ?? -1);
    const page = Math.max(1, Math.floor(height / rowPx) - 1);
    const steps: Readonly<Record<string, number>> = {
      ArrowDown: 1,
      ArrowUp: -1,
      PageDown: page,
      PageUp: -page,
    };
    const step = steps[event.key];
    if (step === undefined || row < 0) return;
    event.preventDefault();
    const next = Math.max(0, Math.min(found.length - 1, row + step));
    wanted.current = next;
    const at = next * rowPx;
    const scroll = box.current?.scrollTop ?? 0;
    const seen = at < scroll ? at : at + rowPx > scroll + height ? at + rowPx - height : scroll;
    if (box.current !== null) box.current.scrollTop = seen;
    setTop(seen);
  };
  return (
    <>
      <p className="soft" role="status">
        {found.length} {found.length === 1 ? "tune" : "tunes"}
      </p>
      <div className="tune-rows" ref={box} onScroll={(event) => setTop(event.currentTarget.scrollTop)}>
        <table aria-rowcount={found.length + 1}>
          <thead>
            <tr>
              <th scope="col">Title</th>
              <th scope="col">Dance</th>
              <th scope="col">Key</th>
              <th scope="col">Metre</th>
              <th scope="col">Begins</th>
              <th scope="col">From</th>
              <th scope="col">
                <span className="only-read-aloud">Delete</span>
              </th>
            </tr>
          </thead>
          <tbody onKeyDown={walk}>
            <Space heightPx={from * rowPx} />
            {found.slice(from, to).map((tune, n) => (
              <tr key={tune.id} data-row={from + n} aria-rowindex={from + n + 2}>
                <td>
                  <button type="button" className="open" onClick={() => onOpen(tune.id)}>
                    {tune.title}
                  </button>
                </td>
                <td>{tune.dance}</td>
                <td>{chord(tune.key)}</td>
                <td>{tune.metre}</td>
                <td className="begins">{tune.begins.slice(0, 8)}</td>
                <td className="soft">{tune.from}</td>
                <td>
                  {isOwn(tune) && (
                    <button type="button" onClick={() => onDelete(tune)}>
                      Delete<span className="only-read-aloud"> {tune.title}</span>
                    </button>
                  )}
                </td>
              </tr>
            ))}
            <Space heightPx={(found.length - to) * rowPx} />
          </tbody>
        </table>
      </div>
    </>
  );
}

/** Stands for rows out of sight. */
function Space({ heightPx }: { readonly heightPx: number }) {
  if (heightPx === 0) return null;
  return (
    <tr>
      <td colSpan={7}>
        <svg className="space" width={1} height={heightPx} />
      </td>
    </tr>
  );
}
