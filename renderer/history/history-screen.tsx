import { type ReactNode, useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { AttemptFilter, Facets } from "../store/history-store.ts";
import { UndoNotice } from "../ui/undo-notice.tsx";
import { usePatience } from "../ui/use-patience.ts";
import type { AttemptActions } from "./attempt-row.tsx";
import { AttemptRows } from "./attempt-rows.tsx";
import { FilterPart } from "./filter-part.tsx";
import { asked, EVERYTHING, type HistoryFilter } from "./history-filter.ts";
import { type AttemptSearch, useAttempts } from "./use-attempts.ts";
import "./history.css";

/** What there is in the history, as far as that is known. */
export type HistoryRead =
  | { readonly kind: "loading" }
  | { readonly kind: "read"; readonly facets: Facets }
  | { readonly kind: "trouble"; readonly words: string };

interface HistoryScreenProps extends AttemptActions {
  readonly history: HistoryRead;
  readonly search: AttemptSearch;
  /** Changes whenever the history did. */
  readonly version: number;
  /** What was just deleted, in words, while that can be taken back. */
  readonly deleted: string | null;
  readonly onUndo: () => void;
  /** What can be done with all that is found, above its rows. */
  readonly withFound?: (filter: AttemptFilter) => ReactNode;
}

/** What was practised, newest first. */
export function HistoryScreen(props: HistoryScreenProps) {
  const { history, search, version, deleted, onUndo, withFound, ...actions } = props;
  const whole = useRef<HTMLElement>(null);
  const undo = () => {
    // The button goes with its notice: the focus would be nowhere.
    whole.current?.querySelector<HTMLElement>("button.open")?.focus();
    onUndo();
  };
  return (
    <main className="history" ref={whole}>
      <h1>Attempts</h1>
      {deleted !== null && (
        <UndoNotice words={`Deleted: ${deleted}, for good once you leave Progress`} onUndo={undo} />
      )}
      {history.kind === "loading" && <p role="status">Reading the history …</p>}
      {history.kind === "trouble" && (
        <p className="notice" role="alert">
          {history.words}
        </p>
      )}
      {history.kind === "read" &&
        (history.facets.attempts === 0 ? (
          <p>
            Nothing here yet. Every take you play or open is kept here with its marks: choose a drill and
            start.
          </p>
        ) : (
          <AttemptList
            facets={history.facets}
            search={search}
            version={version}
            {...(withFound === undefined ? {} : { withFound })}
            {...actions}
          />
        ))}
    </main>
  );
}

type AttemptListProps = AttemptActions &
  Pick<HistoryScreenProps, "search" | "version" | "withFound"> & { readonly facets: Facets };

function AttemptList({ facets, search, version, withFound, ...actions }: AttemptListProps) {
  const [filter, setFilter] = useState(EVERYTHING);
  const answered = useRef(filter);
  const question = useMemo(() => asked(filter), [filter]);
  const { found, isLooking, more, stop } = useAttempts(search, question, version);
  const { chosen, choose, clear, forget } = useChosen();
  const list = useRef<HTMLDivElement>(null);
  const isRead = found.lines !== null;
  useEffect(() => {
    if (found.filter === question) answered.current = filter;
  }, [found.filter, question, filter]);
  const toFirstRow = useCallback(() => list.current?.querySelector<HTMLElement>("button.open")?.focus(), []);
  useEffect(() => {
    if (isRead) toFirstRow();
  }, [isRead, toFirstRow]);
  const stopLooking = () => {
    stop();
    setFilter(answered.current);
  };
  const look = (next: HistoryFilter) => {
    // What is ticked is deleted together: nothing out of sight among it.
    clear();
    setFilter(next);
  };
  const onDelete = (ids: readonly string[]) => {
    forget(ids);
    actions.onDelete(ids);
  };
  return (
    <div className="history-list" ref={list}>
      <FilterPart facets={facets} filter={filter} onFilter={look} />
      <div className="row found-and-chosen">
        <Told found={found.count} isLooking={isLooking} onStop={stopLooking} />
        {chosen.size > 0 && (
          <Chosen
            count={chosen.size}
            onDelete={() => {
              toFirstRow();
              onDelete([...chosen]);
            }}
            onClear={() => {
              toFirstRow();
              clear();
            }}
          />
        )}
        {found.lines === null && !isLooking && (
          <button type="button" onClick={() => look({ ...filter })}>
            Look again
          </button>
        )}
        {found.lines !== null && found.lines.length > 0 && withFound?.(question)}
      </div>
      {found.trouble !== null && (
        <p className="notice" role="alert">
          {found.trouble}
        </p>
      )}
      {found.lines?.length === 0 && <p>No attempt is like that. Choose less.</p>}
      {found.lines !== null && found.lines.length > 0 && (
        <AttemptRows
          lines={found.lines}
          count={found.count}
          chosen={chosen}
          onChoose={choose}
          onNearEnd={more}
          onLeave={() => list.current?.querySelector("input")?.focus()}
          {...actions}
          onDelete={onDelete}
        />
      )}
    </div>
  );
}

interface ToldProps {
  readonly found: number | null;
  readonly isLooking: boolean;
  readonly onStop: () => void;
}

/** How many there are; what takes long says so and can be stopped. */
function Told({ found, isLooking, onStop }: ToldProps) {
  const isLong = usePatience(isLooking);
  return (
    <>
      <span className="soft" role="status">
        {isLong ? "Looking …" : found === null ? "" : attemptsInWords(found)}
      </span>
      {isLong && (
        <button type="button" onClick={onStop}>
          Stop
        </button>
      )}
    </>
  );
}

interface ChosenProps {
  readonly count: number;
  readonly onDelete: () => void;
  readonly onClear: () => void;
}

function Chosen({ count, onDelete, onClear }: ChosenProps) {
  return (
    <>
      <button type="button" onClick={onDelete}>
        Delete {attemptsInWords(count)}
      </button>
      <button type="button" onClick={onClear}>
        Choose none
      </button>
    </>
  );
}

export const attemptsInWords = (count: number): string =>
  `${count.toLocaleString("en")} ${count === 1 ? "attempt" : "attempts"}`;

/** The attempts the player ticked. */
function useChosen() {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const forget = (ids: readonly string[]) =>
    setChosen((before) => new Set([...before].filter((id) => !ids.includes(id))));
  const choose = (id: string, isChosen: boolean) =>
    isChosen ? setChosen((before) => new Set([...before, id])) : forget([id]);
  return { chosen, choose, forget, clear: () => setChosen(new Set()) };
}
