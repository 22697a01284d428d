import { useMemo } from "react";
import { type Harp, harpName, labelName } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { positionHomeName, positionName } from "../../core/instrument/positions.ts";
import { scaleReport } from "../../core/instrument/scale-report.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { targetHzOf } from "../../core/instrument/target-cents.ts";
import { type Hz, type Seconds, seconds, semitones } from "../../core/units.ts";
import type { OwnLayout } from "../store/harp-store.ts";
import { type ChosenHarp, harpOfChoice } from "../ui/chosen-harp.ts";
import { UndoNotice } from "../ui/undo-notice.tsx";
import { useWriting, type Writing } from "../ui/writing.ts";
import { ChordTables } from "./chord-tables.tsx";
import { DegreeTable } from "./degree-table.tsx";
import { HarpPart } from "./harp-part.tsx";
import { ABILITIES_OF, type InstrumentView, leaveDraft, scaleOfView } from "./instrument-view.ts";
import { givesInWords } from "./instrument-words.ts";
import { LayoutButtons } from "./layout-buttons.tsx";
import { beginDraft, copyToChange } from "./layout-draft.ts";
import { ViewChoices } from "./view-choices.tsx";
import "./instrument.css";
import "./instrument-print.css";

interface InstrumentScreenProps {
  readonly view: InstrumentView;
  readonly a4Hz: number;
  readonly own: readonly OwnLayout[];
  readonly onView: (view: InstrumentView) => void;
  readonly onSound: (pitches: readonly Hz[], length: Seconds) => void;
  readonly newId: () => string;
  readonly onKeep: (layout: OwnLayout) => void;
  readonly onDelete: (layout: OwnLayout) => void;
}

const CHORD_SECONDS = seconds(1.5);

/** What does this layout give me in this position? */
export function InstrumentScreen(props: InstrumentScreenProps) {
  const { view, a4Hz, own, onView, onSound } = props;
  const writing = useWriting();
  const { draft, left } = view;
  const layout = draft?.now ?? view.chosen.layout;
  const harp = useMemo(() => harpOfChoice({ ...view.chosen, layout }, a4Hz), [view.chosen, layout, a4Hz]);
  const scale = useMemo(() => scaleOfView(harp, view), [harp, view]);
  const report = useMemo(() => scaleReport(harp, scale, ABILITIES_OF[view.skill]), [harp, scale, view.skill]);
  const onHarp = (chosen: ChosenHarp) => {
    if (chosen.layout !== layout) onView(leaveDraft({ ...view, chosen }));
    else onView({ ...view, chosen: { ...chosen, layout: view.chosen.layout } });
  };
  return (
    <main className="instrument">
      <h1>What does this layout give me in this position?</h1>
      {left !== null && draft === null && (
        <UndoNotice
          words={`Changes to ${left.begun.name} not saved`}
          onUndo={() => onView({ ...view, draft: left, left: null })}
        />
      )}
      <div className="instrument-parts">
        <ViewChoices
          view={view}
          harp={harp}
          own={own.map((one) => one.layout)}
          onChange={onView}
          onHarp={onHarp}
        />
        <div className="shown">
          <p className="harp-title">{titleOf(harp, view, writing)}</p>
          <HarpPart {...props} harp={harp} scale={scale} onLeave={() => onView(leaveDraft(view))} />
          <p className="gives" role="status">
            {writing.say(givesInWords(harp, view.position, view.mode, scale, report))}
          </p>
          {draft === null && <ButtonsOfLayout {...props} />}
          <DegreeTable scale={scale} report={report} />
          <ChordTables
            harp={harp}
            scale={scale}
            onSound={({ breath, holes }) =>
              onSound(
                holes.map((hole) =>
                  targetHzOf(harp, { hole, breath, technique: "plain", bentSemitones: semitones(0) }),
                ),
                CHORD_SECONDS,
              )
            }
          />
        </div>
      </div>
    </main>
  );
}

function titleOf(harp: Harp, { position, mode }: InstrumentView, { note, say }: Writing): string {
  const label = labelName(harp) === harp.key ? "" : ` (labelled ${note(labelName(harp))})`;
  const home = positionHomeName(harp, position);
  return `${say(harpName(harp))}${label} · ${positionName(position)} position · ${note(home)} ${mode}`;
}

function ButtonsOfLayout({ view, own, onView, newId, onKeep, onDelete }: InstrumentScreenProps) {
  const { layout } = view.chosen;
  const mine = own.find((one) => one.layout.id === layout.id) ?? null;
  const show = (shown: Layout) => onView({ ...view, chosen: { ...view.chosen, layout: shown } });
  const others = own.map((one) => one.layout);
  const copy = () => onView({ ...view, draft: beginDraft(copyToChange(layout, others), null) });
  return (
    <LayoutButtons
      layout={layout}
      isOwn={mine !== null}
      own={others}
      onChangeThis={() => (mine === null ? copy() : onView({ ...view, draft: beginDraft(layout, mine.id) }))}
      onCopy={copy}
      onDelete={() => {
        if (mine === null) return;
        onDelete(mine);
        show(STOCK_LAYOUTS[0] ?? layout);
      }}
      onImport={(imported) => {
        onKeep({ id: newId(), layout: imported });
        show(imported);
      }}
      onShow={show}
    />
  );
}
