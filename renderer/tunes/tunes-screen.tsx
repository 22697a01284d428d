import { type DragEvent, useDeferredValue, useMemo, useRef, useState } from "react";
import { TUNE_ENDINGS } from "../../core/archive/file-kinds.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import { TUNE_STATUSES } from "../../core/progress/repertoire/repertoire-status.ts";
import type { TuneChoices } from "../../core/tune/read-tunes.ts";
import { findTunes } from "../../core/tune/tune-list.ts";
import type { ListedTune } from "../store/tune-store.ts";
import { ListChoice } from "../ui/choice.tsx";
import { MidiChoices } from "./midi-choices.tsx";
import { OwnPart } from "./own-part.tsx";
import { inRepertoire, type StatusFilter, TUNE_ORDERS, type TuneOrder } from "./repertoire-view.ts";
import { ScoreChoices } from "./score-choices.tsx";
import { TuneRows, type TuneRowsProps } from "./tune-rows.tsx";
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

interface TunesScreenProps extends Omit<TuneRowsProps, "found"> {
  readonly asking: AskedFile | null;
  readonly onKeepAsked: (choices: TuneChoices) => void;
  readonly onLeaveAsked: () => void;
  readonly list: TuneList;
  readonly bringing: Bringing | null;
  readonly query: string;
  readonly filter: StatusFilter;
  readonly order: TuneOrder;
  readonly onView: (part: { readonly filter?: StatusFilter; readonly order?: TuneOrder }) => void;
  readonly onSetLists: () => void;
  readonly onQuery: (query: string) => void;
  readonly onBring: (file: File) => void;
  readonly onStopBringing: () => void;
  readonly onWrite: () => void;
  /** Texts of tunes of the list. */
  readonly onTexts: (ids: readonly string[]) => Promise<readonly string[]>;
  readonly layout: Layout;
  readonly owned: readonly Harp[];
  readonly abilities: Abilities;
}

/** Which tune? Found as one types. */
export function TunesScreen(props: TunesScreenProps) {
  const { asking, bringing, query, filter, order, onQuery, onView, onBring, onStopBringing, onWrite } = props;
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
        <ListChoice
          legend="State"
          value={filter}
          options={FILTERS}
          onChange={(next) => onView({ filter: next })}
        />
        <ListChoice
          legend="Order"
          value={order}
          options={ORDERS}
          onChange={(next) => onView({ order: next })}
        />
        <BringButton disabled={bringing !== null && bringing.ended === null} onFile={onBring} />
        <button type="button" onClick={onWrite}>
          Write or paste one
        </button>
        <button type="button" onClick={props.onSetLists}>
          Set lists
        </button>
      </div>
      {bringing !== null && <BringingLine bringing={bringing} onStop={onStopBringing} />}
      {asking !== null && <Questions {...props} asking={asking} />}
      <ListBody {...props} />
    </main>
  );
}

const FILTERS = [["any", "any"], ...TUNE_STATUSES.map((status) => [status, status] as const)] as const;
const ORDERS = TUNE_ORDERS.map((order) => [order, order] as const);

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
        accept={TUNE_ENDINGS.map((ending) => `.${ending}`).join()}
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
  const { standing, filter, order } = props;
  const found = useMemo(
    () => inRepertoire(findTunes(tunes, late), standing, filter, order),
    [tunes, late, standing, filter, order],
  );
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
        <p>
          {filter === "any"
            ? "No tune is like that. Try fewer letters, or bring in a file: ABC, MusicXML or MIDI."
            : `No tune like that is in the state “${filter}”.`}
        </p>
      ) : (
        <>
          <OwnPart {...props} count={found.length} onTexts={() => props.onTexts(found.map(({ id }) => id))} />
          <TuneRows {...props} found={found} />
        </>
      );
  }
}

const NONE: readonly ListedTune[] = [];
