import { type KeyboardEvent, type ReactNode, useEffect, useRef, useState } from "react";
import { ladderState, rungTempo } from "../../core/exercise/tune-ladder.ts";
import { standingInWords, type TuneStanding } from "../../core/progress/repertoire/repertoire-status.ts";
import { tempoSign } from "../../core/tune/tempo.ts";
import type { ListedTune } from "../store/tune-store.ts";
import { useDisplay } from "../ui/display.ts";
import { rowsInSight } from "../ui/rows-in-sight.ts";
import { useWriting } from "../ui/writing.ts";
import type { GlanceWorld, TuneGlance } from "./glance-shape.ts";
import { dayInWords, type Repertoire } from "./repertoire-view.ts";
import type { TuneWork } from "./tune-work.ts";
import { type GlanceShelf, useGlances } from "./use-glances.ts";

/** Height of a row at the usual size of text, as in tunes.css. */
const ROW_PX = 60;

export interface TuneRowsProps {
  readonly found: readonly ListedTune[];
  readonly isOwn: (tune: ListedTune) => boolean;
  readonly onOpen: (id: string) => void;
  readonly onDelete: (tune: ListedTune) => void;
  readonly repertoire: Repertoire;
  readonly standing: (tune: ListedTune) => TuneStanding;
  readonly shelf: GlanceShelf;
  readonly world: GlanceWorld;
  readonly work: TuneWork;
  readonly onText: (id: string) => Promise<string | null>;
}

const COLUMNS = ["Title", "Dance", "Key", "Best harp", "Hardest spot", "State"] as const;

/** The tunes found; of thousands only those in sight stand in the page. */
export function TuneRows(props: TuneRowsProps) {
  const { found, repertoire, shelf, world, work, onText } = props;
  const rowPx = ROW_PX * useDisplay().textScale;
  const box = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const wanted = useRef<number | null>(null);
  const height = box.current?.clientHeight ?? 600;
  const { from, to } = rowsInSight(found.length, top, height, rowPx);
  const rows = found.slice(from, to);
  const glance = useGlances(rows, { shelf, world, work, studies: repertoire.studies, onText });
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
              {COLUMNS.map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
              <th scope="col">
                <span className="only-read-aloud">Delete</span>
              </th>
            </tr>
          </thead>
          <tbody onKeyDown={walk}>
            <Space heightPx={from * rowPx} />
            {rows.map((tune, n) => (
              <Row key={tune.id} {...props} tune={tune} row={from + n} glance={glance(tune)} />
            ))}
            <Space heightPx={(found.length - to) * rowPx} />
          </tbody>
        </table>
      </div>
    </>
  );
}

interface RowProps extends TuneRowsProps {
  readonly tune: ListedTune;
  readonly row: number;
  readonly glance: TuneGlance | null | undefined;
}

function Row({ tune, row, glance, isOwn, onOpen, onDelete, repertoire, standing }: RowProps) {
  const { chord, say } = useWriting();
  const its = standing(tune);
  return (
    <tr data-row={row} aria-rowindex={row + 2}>
      <td>
        <button type="button" className="open" title={tune.title} onClick={() => onOpen(tune.id)}>
          {tune.title}
        </button>
        <Under>{tune.from}</Under>
      </td>
      <td>
        {tune.dance}
        <Under>{tune.metre}</Under>
      </td>
      <td>
        {chord(tune.key)}
        <Under className="begins">{tune.begins.slice(0, 8)}</Under>
      </td>
      <GlanceCell glance={glance} words={({ harp, position }) => [say(harp), position].join(", ")}>
        {(known) => bendsInWords(known)}
      </GlanceCell>
      <GlanceCell glance={glance} words={({ spot }) => spot?.what ?? "nothing hard"}>
        {({ spot }) => spot?.where ?? ""}
      </GlanceCell>
      <td title={standingInWords(its, (epochMs) => dayInWords(epochMs, repertoire.nowEpochMs))}>
        {statusInWords(its)}
        <Under>{glance == null ? "" : nextInWords(tune, glance, repertoire)}</Under>
      </td>
      <td>
        {isOwn(tune) && (
          <button type="button" onClick={() => onDelete(tune)}>
            Delete<span className="only-read-aloud"> {tune.title}</span>
          </button>
        )}
      </td>
    </tr>
  );
}

/** Dots while it is worked out; it never moves what stands beside it. */
function GlanceCell({
  glance,
  words,
  children,
}: {
  readonly glance: TuneGlance | null | undefined;
  readonly words: (known: TuneGlance) => string;
  readonly children: (known: TuneGlance) => string;
}) {
  if (glance === undefined) {
    return (
      <td className="soft">
        <span aria-hidden="true">…</span>
        <span className="only-read-aloud">being worked out</span>
      </td>
    );
  }
  if (glance === null) return <td className="soft">cannot be read</td>;
  return (
    <td title={words(glance)}>
      {words(glance)}
      <Under>{children(glance)}</Under>
    </td>
  );
}

const Under = ({ children, className }: { readonly children: ReactNode; readonly className?: string }) => (
  <div className={className === undefined ? "soft" : `soft ${className}`}>{children}</div>
);

function bendsInWords({ bent, missing }: TuneGlance): string {
  const lacks = missing === 0 ? [] : [`lacks ${missing} ${missing === 1 ? "note" : "notes"}`];
  const bends = bent === 0 ? [] : [`${bent} ${bent === 1 ? "note" : "notes"} bent`];
  return lacks.length + bends.length === 0 ? "no bends" : [...bends, ...lacks].join(", ");
}

/** "learning · A 1–4 at ♩ = 70": the state and the furthest that was reached. */
function statusInWords({ status, reached }: TuneStanding): string {
  return reached === null ? status : `${status} · ${reached.words} at ${tempoSign(reached.tempo)}`;
}

/** "next: strain A at ♩. = 93". */
function nextInWords(tune: ListedTune, { ladder, dance }: TuneGlance, repertoire: Repertoire): string {
  const { tries, studies, rule } = repertoire;
  const heard = new Set(studies.get(tune.id)?.heard ?? []);
  const states = ladderState(ladder, tries.get(tune.id) ?? [], heard, rule, dance);
  const now = states.find(({ state }) => state === "now")?.rung;
  if (now === undefined) return "every rung climbed";
  if (now.kind === "listen") return `next: listen to ${now.words}`;
  return `next: ${now.words} at ${tempoSign({ ...dance, bpm: rungTempo(dance.bpm, now) })}`;
}

/** Stands for rows out of sight. */
function Space({ heightPx }: { readonly heightPx: number }) {
  if (heightPx === 0) return null;
  return (
    <tr>
      <td colSpan={COLUMNS.length + 1}>
        <svg className="space" width={1} height={heightPx} />
      </td>
    </tr>
  );
}
