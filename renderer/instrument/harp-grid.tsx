import { type KeyboardEvent, useEffect, useRef } from "react";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Breath } from "../../core/instrument/layout.ts";
import type { ReedAction, SoundingAction } from "../../core/instrument/reed-actions.ts";
import type { HomeScale } from "../../core/instrument/scale-report.ts";
import { actionInWords } from "../../core/instrument/tab.ts";
import { degreeOf } from "../../core/pitch/modes.ts";
import { noteName, pitchClass } from "../../core/pitch/note-names.ts";
import { midi, semitones } from "../../core/units.ts";
import { useDisplay } from "../ui/display.ts";
import { useWriting, type Writing } from "../ui/writing.ts";
import { nextPlace, type Place, type ReedRow, type ReedRows } from "./reed-rows.ts";

/** What can be done to a reed while the layout is being changed. */
export interface ReedChanges {
  readonly onStep: (hole: number, breath: Breath, by: number) => void;
  readonly onOctave: (hole: number, breath: Breath, octaves: number) => void;
  /** The nearest note of a letter, "c" to "b". */
  readonly onLetter: (hole: number, breath: Breath, letter: string) => void;
  readonly onTakeOut: (hole: number, breath: Breath) => void;
  readonly onValve: (hole: number, breath: Breath) => void;
}

interface HarpGridProps {
  readonly harp: Harp;
  readonly scale: HomeScale;
  readonly rows: ReedRows;
  readonly at: Place;
  readonly onMove: (place: Place) => void;
  readonly onSound: (action: ReedAction) => void;
  /** null while the layout is only looked at. */
  readonly changes: ReedChanges | null;
}

/** The harp drawn large: holes left to right or, held turned round, right to left, blow above, draw below, bends and overbends outwards. */
export function HarpGrid(props: HarpGridProps) {
  const { harp, rows, changes } = props;
  const grid = useRef<HTMLTableElement>(null);
  const holes = useHoles(harp);
  const isLookedAt = changes === null;
  useEffect(() => {
    // The arrow keys work at once, on coming in and after a layout was changed.
    if (isLookedAt) grid.current?.querySelector<HTMLElement>('[tabindex="0"]')?.focus();
  }, [isLookedAt]);
  const go = (place: Place) => {
    props.onMove(place);
    const its = `[data-row="${place.row}"][data-hole="${place.hole}"]`;
    grid.current?.querySelector<HTMLElement>(its)?.focus();
  };
  const label = isLookedAt ? "The harp, reed by reed" : "The harp, reed by reed, being changed";
  return (
    <table
      ref={grid}
      className={harp.layout.holes.length > 12 ? "harp-grid narrow" : "harp-grid"}
      aria-label={label}
    >
      <tbody>
        {rows.above.map((row) => (
          <GridRow key={row.id} {...props} row={row} go={go} />
        ))}
        <tr className="holes">
          <th scope="row">hole</th>
          {holes.map((hole) => (
            <td key={hole}>{hole}</td>
          ))}
        </tr>
        {rows.below.map((row) => (
          <GridRow key={row.id} {...props} row={row} go={go} />
        ))}
      </tbody>
    </table>
  );
}

/** The numbers of the holes in the order they are drawn in. */
function useHoles(harp: Harp): readonly number[] {
  const { mirrored } = useDisplay();
  const holes = harp.layout.holes.map((_, index) => index + 1);
  return mirrored ? holes.reverse() : holes;
}

interface GridRowProps extends HarpGridProps {
  readonly row: ReedRow;
  readonly go: (place: Place) => void;
}

function GridRow(props: GridRowProps) {
  const { row, harp } = props;
  const holes = useHoles(harp);
  return (
    <tr className={row.technique === "plain" ? "plain" : "bent"}>
      <th scope="row">{row.words}</th>
      {holes.map((hole) => (
        <td key={hole}>
          <ReedCell {...props} cell={row.cells[hole - 1] ?? null} hole={hole} />
        </td>
      ))}
    </tr>
  );
}

interface ReedCellProps extends GridRowProps {
  readonly cell: SoundingAction | null;
  readonly hole: number;
}

function ReedCell(props: ReedCellProps) {
  const { harp, scale, row, cell, hole, at, changes } = props;
  const writing = useWriting();
  const { mirrored } = useDisplay();
  const isChangeable = changes !== null && row.technique === "plain";
  if (cell === null && !isChangeable) return null;
  const note = cell === null ? null : midi(harp.keyNote + cell.sounds);
  const face = note === null ? NO_REED : faceOf(note, scale, writing);
  const action = cell?.action ?? {
    hole,
    breath: row.breath,
    technique: "plain",
    bentSemitones: semitones(0),
  };
  const isHere = at.hole === hole && at.row === row.id;
  // While changing, both plain rows are a stop of Tab, for up and down then move the reed.
  const isStop = changes === null ? isHere : isChangeable && at.hole === hole;
  return (
    <button
      type="button"
      className={`reed ${face.kind}`}
      data-row={row.id}
      data-hole={hole}
      tabIndex={isStop ? 0 : -1}
      aria-label={`${actionInWords(action)}: ${face.words}${isValved(props) ? ", valved" : ""}`}
      onFocus={() => props.onMove({ row: row.id, hole })}
      onClick={() => cell !== null && props.onSound(cell.action)}
      onKeyDown={(event) => pressed(event, props, mirrored)}
    >
      <span className="note">{face.note}</span>
      <span className="degree">
        {face.degree}
        {isValved(props) && " v"}
      </span>
    </button>
  );
}

const isValved = ({ harp, row, hole }: ReedCellProps) =>
  row.technique === "plain" && (harp.layout.holes[hole - 1]?.valved ?? []).includes(row.breath);

/** What a cell shows: home note, note of the mode, or outside it. */
interface Face {
  readonly kind: "home" | "inside" | "outside" | "no-reed";
  readonly note: string;
  readonly degree: string;
  readonly words: string;
}

const NO_REED: Face = { kind: "no-reed", note: "–", degree: "", words: "no reed" };

function faceOf(note: number, scale: HomeScale, writing: Writing): Face {
  const name = writing.note(noteName(midi(note), scale.spelling));
  const above = pitchClass(note - scale.home);
  const degree = degreeOf(above, scale.degrees).name;
  if (above === 0) return { kind: "home", note: name, degree, words: `${name}, home note` };
  const isInside = scale.degrees.some((one) => one.aboveHome === above);
  return isInside
    ? { kind: "inside", note: name, degree, words: `${name}, degree ${degree}` }
    : { kind: "outside", note: name, degree, words: `${name}, degree ${degree}, outside the mode` };
}

const DIRECTIONS: Readonly<Record<string, readonly [down: number, right: number]>> = {
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
};

/** On a harp drawn turned round the next hole lies to the left. */
const TURNED: Readonly<Record<string, string>> = { ArrowLeft: "ArrowRight", ArrowRight: "ArrowLeft" };

function pressed(event: KeyboardEvent, props: ReedCellProps, mirrored: boolean): void {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const key = mirrored ? (TURNED[event.key] ?? event.key) : event.key;
  const handled = props.changes === null ? walked(key, props) : changed(key, props, props.changes);
  if (handled) event.preventDefault();
}

function walked(key: string, { rows, row, hole, go }: ReedCellProps): boolean {
  const direction = DIRECTIONS[key];
  if (direction === undefined) return false;
  go(nextPlace([...rows.above, ...rows.below], { row: row.id, hole }, ...direction));
  return true;
}

/** While changing: keys on a plain reed change it, left and right go to the next hole. */
function changed(key: string, props: ReedCellProps, changes: ReedChanges): boolean {
  const { harp, row, hole, go } = props;
  if (row.technique !== "plain") return false;
  const right = DIRECTIONS[key]?.[1] ?? 0;
  if (right === 0) return changedReed(key, hole, row.breath, changes);
  const next = hole + right;
  if (next >= 1 && next <= harp.layout.holes.length) go({ row: row.id, hole: next });
  return true;
}

/**
 * Up and down move the reed by a semitone, the page keys by an octave, a letter sets it to the nearest such note, Delete
 * takes it out, V valves it.
 */
function changedReed(key: string, hole: number, breath: Breath, changes: ReedChanges): boolean {
  switch (key) {
    case "ArrowUp":
    case "ArrowDown":
      changes.onStep(hole, breath, key === "ArrowUp" ? 1 : -1);
      return true;
    case "PageUp":
    case "PageDown":
      changes.onOctave(hole, breath, key === "PageUp" ? 1 : -1);
      return true;
    case "Delete":
    case "Backspace":
      changes.onTakeOut(hole, breath);
      return true;
    case "v":
    case "V":
      changes.onValve(hole, breath);
      return true;
    default:
      if (!/^[a-g]$/i.test(key)) return false;
      changes.onLetter(hole, breath, key);
      return true;
  }
}
