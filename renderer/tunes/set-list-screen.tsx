import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import {
  type PlannedDance,
  type PlannedSet,
  planDance,
} from "../../core/progress/repertoire/repertoire-dance.ts";
import {
  addSet,
  addTune,
  changeSet,
  changeTune,
  moveSet,
  moveTune,
  orderSet,
  removeSet,
  removeTune,
} from "../../core/progress/repertoire/repertoire-edit.ts";
import type { SetOrder } from "../../core/progress/repertoire/repertoire-order.ts";
import {
  type DanceSet,
  LONGEST_NAME,
  type SetList,
  type SetTune,
  TIMES_THROUGH,
} from "../../core/progress/repertoire/repertoire-set-list.ts";
import {
  danceCsv,
  danceText,
  lastsInWords,
  setName,
} from "../../core/progress/repertoire/repertoire-words.ts";
import type { ListedTune } from "../store/tune-store.ts";
import { fileNameOf } from "../ui/file-name.ts";
import { saveTextFile } from "../ui/save-file.ts";
import { TextChoice } from "../ui/text-choice.tsx";
import { useVerbs } from "../ui/use-verbs.tsx";
import { SetListPaper } from "./set-list-paper.tsx";
import { SetPart } from "./set-part.tsx";
import { type LaidSource, useLaid } from "./use-laid.ts";
import "./set-lists.css";

interface SetListScreenProps extends LaidSource {
  readonly list: SetList;
  /** All there are, to choose from. */
  readonly tunes: readonly ListedTune[];
  /** How many harps the player has. */
  readonly owned: number;
  readonly newId: () => string;
  readonly onChange: (list: SetList) => void;
  /** Something was taken out: the list as it was, and in words what. */
  readonly onTaken: (list: SetList, before: SetList, words: string) => void;
  readonly onOpenTune: (id: string) => void;
  readonly onPractise: (set: PlannedSet) => void;
  readonly onLeave: () => void;
}

/** One dance: its sets in order, how long they last, and where another harp is needed. */
export function SetListScreen(props: SetListScreenProps) {
  const { list, onChange, newId, onLeave } = props;
  const laid = useLaid(list, props);
  const { laidOf } = laid;
  const dance = useMemo(() => planDance(list, (tune) => laidOf(tune) ?? null), [list, laidOf]);
  const [openTune, setOpenTune] = useState<string | null>(null);
  const page = useRef<HTMLElement>(null);
  const wanted = useRef<string | null>(null);
  useEffect(() => {
    if (wanted.current === null) return;
    lineOf(page.current, wanted.current)?.focus();
    wanted.current = null;
  });
  useVerbs({ leave: onLeave });
  const move = (tune: SetTune, by: 1 | -1) => {
    wanted.current = tune.id;
    onChange(moveTune(list, tune.id, by));
  };
  const takeOut = (tune: SetTune) => {
    wanted.current = besideOf(list, tune);
    props.onTaken(removeTune(list, tune.id), list, `Taken out: ${tune.title}`);
  };
  const keys = (event: KeyboardEvent) => walk(event, page.current, list, { move, takeOut });
  const begin = () => onChange(addSet(list, newId(), ""));
  return (
    <main className="set-list" ref={page} onKeyDown={keys}>
      <h1>{list.name === "" ? "A dance without a name" : list.name}</h1>
      <p className="one-sentence" role="status">
        {totalInWords(dance)}
      </p>
      <TextChoice
        legend="Name of the dance"
        most={LONGEST_NAME}
        value={list.name}
        onChange={(name) => onChange({ ...list, name })}
      />
      {props.owned === 0 && (
        <p className="soft">
          No harp is kept under My harps: each tune lies on the best of the {props.world.harps.length} looked
          at.
        </p>
      )}
      {list.demo === true && <p className="soft">Made up for the demonstration.</p>}
      <Progress {...laid} />
      <p className="soft">
        Arrow keys go from tune to tune, with Alt they move it; Enter opens what can be changed, Delete takes
        it out.
      </p>
      {dance.sets.length === 0 && <p>No set yet: a set is what is played on end for one dance.</p>}
      {dance.sets.map((planned, number) => (
        <SetPart
          key={planned.set.id}
          planned={planned}
          number={number}
          isLast={number === dance.sets.length - 1}
          isPending={(tune) => laidOf(tune) === undefined}
          openTune={openTune}
          tunes={props.tunes}
          rowOf={(tune) => ({
            onToggle: () => setOpenTune((open) => (open === tune.id ? null : tune.id)),
            onChange: (change) => onChange(changeTune(list, tune.id, change)),
            onMove: (by) => move(tune, by),
            onTakeOut: () => takeOut(tune),
            onOpenTune: () => props.onOpenTune(tune.tuneId),
          })}
          onAdd={({ id, title }) =>
            onChange(
              addTune(list, planned.set.id, { id: newId(), tuneId: id, title, times: TIMES_THROUGH.usual }),
            )
          }
          onChange={(change) => onChange(changeSet(list, planned.set.id, change))}
          onMove={(by) => onChange(moveSet(list, planned.set.id, by))}
          onDelete={() => deleteSet(props, planned.set, number)}
          onOrder={(order) => onChange(inOrder(list, planned, order))}
          onPractise={() => props.onPractise(planned)}
        />
      ))}
      <p className="row">
        <button type="button" onClick={begin}>
          Add a set
        </button>
        <button type="button" onClick={() => window.print()}>
          Print it
        </button>
        <SaveButtons dance={dance} />
        <button type="button" onClick={onLeave}>
          All set lists
        </button>
      </p>
      <SetListPaper dance={dance} />
    </main>
  );
}

function totalInWords(dance: PlannedDance): string {
  const { seconds, playedSeconds, changes, sets } = dance;
  if (sets.length === 0) return "Nothing is on it yet.";
  const count =
    changes === 0
      ? "no harp change within a set"
      : `${changes} harp ${changes === 1 ? "change" : "changes"} within sets`;
  return `${lastsInWords(seconds)} with breaks, ${lastsInWords(playedSeconds)} played, ${count}.`;
}

function Progress({ done, of, isStopped, trouble, stop, goOn }: ReturnType<typeof useLaid>) {
  if (trouble !== null) {
    return (
      <p className="notice" role="alert">
        The harps could not be worked out: {trouble}.
      </p>
    );
  }
  if (done === of) return null;
  return (
    <p role="status">
      {isStopped ? "Stopped" : "Working out harps and lengths"}: {done} of {of} tunes{" "}
      <progress value={done} max={of} aria-label="Working out harps and lengths" />{" "}
      <button type="button" onClick={isStopped ? goOn : stop}>
        {isStopped ? "Go on" : "Stop"}
      </button>
    </p>
  );
}

function SaveButtons({ dance }: { readonly dance: PlannedDance }) {
  const [trouble, setTrouble] = useState<string | null>(null);
  const name = fileNameOf(dance.list.name, "set-list");
  const save = (ending: string, text: string, type: string) => {
    setTrouble(null);
    saveTextFile(`${name}.${ending}`, text, type).catch((error: unknown) =>
      setTrouble(error instanceof Error ? error.message : String(error)),
    );
  };
  return (
    <>
      <button type="button" onClick={() => save("txt", danceText(dance), "text/plain")}>
        Save as text
      </button>
      <button type="button" onClick={() => save("csv", danceCsv(dance), "text/csv")}>
        Save as CSV
      </button>
      {trouble !== null && (
        <span className="notice" role="alert">
          It cannot be saved: {trouble}.
        </span>
      )}
    </>
  );
}

function deleteSet({ list, onChange, onTaken }: SetListScreenProps, set: DanceSet, number: number): void {
  const without = removeSet(list, set.id);
  // An empty set is no loss.
  if (set.tunes.length === 0) onChange(without);
  else onTaken(without, list, `Deleted: ${setName(set, number)}`);
}

/** The tunes in the order offered; one whose harp stays what it is keeps its choice. */
function inOrder(list: SetList, { set, tunes }: PlannedSet, { order, harps }: SetOrder): SetList {
  return orderSet(
    list,
    set.id,
    order.map((place, n) => {
      const one = tunes[place];
      if (one?.laid == null || one.place?.key === harps[n]) return { place, harp: null };
      return { place, harp: one.laid.onEach.find(({ key }) => key === harps[n])?.harp ?? null };
    }),
  );
}

const LINES = ".set-tune-line > button";

const lineOf = (page: HTMLElement | null, id: string) =>
  page?.querySelector<HTMLElement>(`[data-tune="${CSS.escape(id)}"] ${LINES}`) ?? null;

/** The tune that has the focus once this one is taken out. */
function besideOf(list: SetList, tune: SetTune): string | null {
  const all = list.sets.flatMap((set) => set.tunes.map(({ id }) => id));
  const at = all.indexOf(tune.id);
  return all[at + 1] ?? all[at - 1] ?? null;
}

interface Walked {
  readonly move: (tune: SetTune, by: 1 | -1) => void;
  readonly takeOut: (tune: SetTune) => void;
}

/** Arrows from line to line, with Alt the tune goes along; Delete takes it out. */
function walk(
  event: KeyboardEvent,
  page: HTMLElement | null,
  list: SetList,
  { move, takeOut }: Walked,
): void {
  const lines = [...(page?.querySelectorAll<HTMLElement>(LINES) ?? [])];
  const at = lines.findIndex((line) => line.isSameNode(event.target as Node));
  const id = lines[at]?.closest<HTMLElement>("[data-tune]")?.dataset.tune;
  const tune = list.sets.flatMap((set) => set.tunes).find((one) => one.id === id);
  if (tune === undefined) return;
  const by = event.key === "ArrowDown" ? 1 : event.key === "ArrowUp" ? -1 : null;
  if (by === null && event.key !== "Delete") return;
  event.preventDefault();
  if (by === null) takeOut(tune);
  else if (event.altKey) move(tune, by);
  else lines[at + by]?.focus();
}
