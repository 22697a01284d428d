import { useMemo, useState } from "react";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Breath, Layout } from "../../core/instrument/layout.ts";
import type { ReedAction } from "../../core/instrument/reed-actions.ts";
import type { HomeScale } from "../../core/instrument/scale-report.ts";
import { targetHzOf } from "../../core/instrument/target-cents.ts";
import { pitchClass } from "../../core/pitch/note-names.ts";
import { type Hz, type Seconds, seconds, semitones } from "../../core/units.ts";
import type { OwnLayout } from "../store/harp-store.ts";
import { HarpGrid } from "./harp-grid.tsx";
import { ABILITIES_OF, type InstrumentView } from "./instrument-view.ts";
import {
  changeDraft,
  type LayoutDraft,
  octaveReed,
  reedToLetter,
  stepReed,
  switchValve,
  takeReedOut,
} from "./layout-draft.ts";
import { LayoutEditor } from "./layout-editor.tsx";
import { type Place, type ReedRows, reedRows } from "./reed-rows.ts";

interface HarpPartProps {
  readonly harp: Harp;
  readonly scale: HomeScale;
  readonly view: InstrumentView;
  readonly own: readonly OwnLayout[];
  readonly onView: (view: InstrumentView) => void;
  readonly onSound: (pitches: readonly Hz[], length: Seconds) => void;
  readonly newId: () => string;
  readonly onKeep: (layout: OwnLayout) => void;
  readonly onLeave: () => void;
}

const NOTE_SECONDS = seconds(1);
const FIRST_PLACE: Place = { row: "blow-plain-0", hole: 1 };

/** The harp, to be heard reed by reed, and to be changed while there is a draft. */
export function HarpPart(props: HarpPartProps) {
  const { harp, scale, view, onView, onSound } = props;
  const { draft } = view;
  const [wanted, setWanted] = useState<Place>(FIRST_PLACE);
  const rows = useMemo(() => reedRows(harp.layout, ABILITIES_OF[view.skill]), [harp.layout, view.skill]);
  const at = draft === null ? placeWithNote(rows, wanted) : plainPlace(harp.layout, wanted);
  const reed = { hole: at.hole, breath: breathOf(at) };
  const sound = (its: Harp, action: ReedAction) =>
    onSound([targetHzOf(its, action, pitchClass(scale.home - its.keyNote))], NOTE_SECONDS);
  const change = (layout: Layout, hole: number, breath: Breath) => {
    if (draft === null || layout === draft.now) return;
    onView({ ...view, draft: changeDraft(draft, layout) });
    const isThere = (layout.holes[hole - 1]?.[breath] ?? null) !== null;
    if (isThere) sound({ ...harp, layout }, plain(hole, breath));
  };
  const step = (hole: number, breath: Breath, by: number) =>
    change(stepReed(harp.layout, hole, breath, by), hole, breath);
  const octave = (hole: number, breath: Breath, octaves: number) =>
    change(octaveReed(harp.layout, hole, breath, octaves), hole, breath);
  const letter = (hole: number, breath: Breath, name: string) =>
    change(reedToLetter(harp.layout, hole, breath, name, harp.keyNote), hole, breath);
  const takeOut = (hole: number, breath: Breath) =>
    change(takeReedOut(harp.layout, hole, breath), hole, breath);
  const valve = (hole: number, breath: Breath) =>
    change(switchValve(harp.layout, hole, breath), hole, breath);
  const changes = { onStep: step, onOctave: octave, onLetter: letter, onTakeOut: takeOut, onValve: valve };
  const grid = (
    <>
      <HarpGrid
        harp={harp}
        scale={scale}
        rows={rows}
        at={at}
        onMove={setWanted}
        onSound={(action) => sound(harp, action)}
        changes={draft === null ? null : changes}
      />
      <Legend isLookedAt={draft === null} />
    </>
  );
  if (draft === null) return grid;
  return (
    <LayoutEditor
      draft={draft}
      keyNote={harp.keyNote}
      others={othersOf(props.own, draft)}
      reed={reed}
      onChange={(next) => onView({ ...view, draft: next })}
      onStep={(by) => step(reed.hole, reed.breath, by)}
      onTakeOut={() => takeOut(reed.hole, reed.breath)}
      onValve={() => valve(reed.hole, reed.breath)}
      onSave={() => save(props, draft)}
      onLeave={props.onLeave}
    >
      {grid}
    </LayoutEditor>
  );
}

function Legend({ isLookedAt }: { readonly isLookedAt: boolean }) {
  return (
    <p className="legend">
      <span className="reed home">home note</span> <span className="reed inside">in the mode</span>{" "}
      <span className="reed outside">outside it</span>{" "}
      {isLookedAt && (
        <span className="soft keys">
          <kbd>←</kbd> <kbd>→</kbd> <kbd>↑</kbd> <kbd>↓</kbd> move, <kbd>Enter</kbd> or <kbd>Space</kbd>{" "}
          sounds a reed.
        </span>
      )}
    </p>
  );
}

function save({ view, newId, onView, onKeep }: HarpPartProps, draft: LayoutDraft): void {
  const layout = { ...draft.now, name: draft.now.name.trim() };
  onKeep({ id: draft.ownId ?? newId(), layout });
  onView({ ...view, chosen: { ...view.chosen, layout }, draft: null, left: null });
}

const plain = (hole: number, breath: Breath): ReedAction => ({
  hole,
  breath,
  technique: "plain",
  bentSemitones: semitones(0),
});

const breathOf = (place: Place): Breath => (place.row.startsWith("draw") ? "draw" : "blow");

const othersOf = (own: readonly OwnLayout[], draft: LayoutDraft) =>
  own.filter((one) => one.id !== draft.ownId).map((one) => one.layout);

/** The place itself where it has a note, else the first that has one. */
function placeWithNote({ above, below }: ReedRows, wanted: Place): Place {
  const all = [...above, ...below];
  const its = all.find((row) => row.id === wanted.row)?.cells[wanted.hole - 1] ?? null;
  if (its !== null) return wanted;
  const plainRows = all.filter((row) => row.technique === "plain");
  const found = plainRows.find((row) => row.cells.some((cell) => cell !== null));
  const hole = (found?.cells.findIndex((cell) => cell !== null) ?? 0) + 1;
  return { row: found?.id ?? FIRST_PLACE.row, hole };
}

/** A plain reed of the same breath, within the holes there are. */
function plainPlace(layout: Layout, wanted: Place): Place {
  const hole = Math.min(wanted.hole, layout.holes.length);
  return { row: `${breathOf(wanted)}-plain-0`, hole };
}
