import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef } from "react";
import { changePositionKey } from "../../core/instrument/change-layout.ts";
import type { Breath, Layout } from "../../core/instrument/layout.ts";
import { MOST_HOLES } from "../../core/instrument/layout.ts";
import { layoutWarnings } from "../../core/instrument/layout-warnings.ts";
import { keyName } from "../../core/pitch/note-names.ts";
import { semitones } from "../../core/units.ts";
import { ListChoice, NumberChoice } from "../ui/choice.tsx";
import { useWriting } from "../ui/writing.ts";
import {
  changeDraft,
  type LayoutDraft,
  redoDraft,
  renameDraft,
  undoDraft,
  whyNotKeep,
  withHoles,
  withLabelKey,
} from "./layout-draft.ts";

interface LayoutEditorProps {
  readonly draft: LayoutDraft;
  /** The key note's pitch, for naming notes. */
  readonly keyNote: number;
  /** The player's layouts besides this one. */
  readonly others: readonly Layout[];
  /** The reed the keys act on, for players with a mouse. */
  readonly reed: { readonly hole: number; readonly breath: Breath };
  readonly onChange: (draft: LayoutDraft) => void;
  readonly onStep: (by: number) => void;
  readonly onTakeOut: () => void;
  readonly onValve: () => void;
  readonly onSave: () => void;
  readonly onLeave: () => void;
  /** The harp being changed. */
  readonly children: ReactNode;
}

/** The layout being changed: name, holes, the reeds of the picture, what is unusual, and the way back. */
export function LayoutEditor(props: LayoutEditorProps) {
  const { draft, others, onChange, children } = props;
  const refusal = whyNotKeep(draft.now, others);
  const warnings = layoutWarnings(draft.now);
  const change = (layout: Layout) => onChange(changeDraft(draft, layout));
  return (
    <section
      className="editor"
      aria-label="Change this layout"
      onKeyDown={(event) => undoKeys(event, draft, onChange)}
    >
      <div className="row">
        <NameField draft={draft} refusal={refusal} onChange={onChange} />
        <NumberChoice
          legend="Holes"
          unit={`1 to ${MOST_HOLES}`}
          value={draft.now.holes.length}
          low={1}
          high={MOST_HOLES}
          step={1}
          onChange={(count) => Number.isInteger(count) && change(withHoles(draft.now, count))}
        />
        <KeyFields {...props} change={change} />
      </div>
      {children}
      <ReedButtons {...props} />
      {warnings.length > 0 && (
        <ul className="warnings" aria-label="Unusual, and perhaps meant">
          {warnings.map((warning) => (
            <li key={warning.text}>{warning.text}</li>
          ))}
        </ul>
      )}
      <EditorButtons {...props} refusal={refusal} />
    </section>
  );
}

interface NameFieldProps {
  readonly draft: LayoutDraft;
  readonly refusal: string | null;
  readonly onChange: (draft: LayoutDraft) => void;
}

function NameField({ draft, refusal, onChange }: NameFieldProps) {
  const id = useId();
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    field.current?.focus();
    field.current?.select();
  }, []);
  return (
    <div className="choice name">
      <label htmlFor={id}>Name</label>
      <input
        ref={field}
        id={id}
        type="text"
        value={draft.now.name}
        aria-invalid={refusal !== null}
        aria-describedby={refusal === null ? undefined : `${id}-refusal`}
        onChange={(event) => onChange(renameDraft(draft, event.target.value))}
      />
      {refusal !== null && <span id={`${id}-refusal`}>{refusal}</span>}
    </div>
  );
}

/** The note positions are counted from, and the one such a harp is labelled by. */
function KeyFields({
  draft,
  keyNote,
  change,
}: LayoutEditorProps & { readonly change: (layout: Layout) => void }) {
  const { now } = draft;
  const { note } = useWriting();
  const options = Array.from(
    { length: 12 },
    (_, above) =>
      [
        above,
        above === 0 ? `${note(keyName(keyNote))}, the key note` : note(keyName(keyNote + above)),
      ] as const,
  );
  return (
    <>
      <ListChoice
        legend="Positions count from"
        value={now.positionKey ?? 0}
        options={options}
        onChange={(above) => change(changePositionKey(now, semitones(above)))}
      />
      <ListChoice
        legend="Labelled"
        value={now.labelKey ?? 0}
        options={options}
        onChange={(above) => change(withLabelKey(now, above))}
      />
    </>
  );
}

function ReedButtons({ reed, onStep, onTakeOut, onValve }: LayoutEditorProps) {
  return (
    <div className="row">
      <span>
        {reed.hole} {reed.breath}:
      </span>
      <button type="button" onClick={() => onStep(1)}>
        Up a semitone
      </button>
      <button type="button" onClick={() => onStep(-1)}>
        Down a semitone
      </button>
      <button type="button" onClick={onTakeOut}>
        Take the reed out
      </button>
      <button type="button" onClick={onValve}>
        Valve on or off
      </button>
      <span className="soft">
        On a reed: <kbd>↑</kbd> <kbd>↓</kbd> a semitone, <kbd>Page Up</kbd> <kbd>Page Down</kbd> an octave,{" "}
        <kbd>A</kbd> to <kbd>G</kbd> the nearest such note, <kbd>←</kbd> <kbd>→</kbd> next hole,{" "}
        <kbd>Tab</kbd> blow or draw, <kbd>Delete</kbd> takes it out, <kbd>V</kbd> valves it
      </span>
    </div>
  );
}

function EditorButtons(props: LayoutEditorProps & { readonly refusal: string | null }) {
  const { draft, refusal, onChange, onSave, onLeave } = props;
  return (
    <div className="row">
      <button type="button" disabled={draft.past.length === 0} onClick={() => onChange(undoDraft(draft))}>
        Undo
      </button>
      <button type="button" disabled={draft.future.length === 0} onClick={() => onChange(redoDraft(draft))}>
        Redo
      </button>
      <button type="button" className="main" disabled={refusal !== null} onClick={onSave}>
        Save to my layouts
      </button>
      <button type="button" onClick={onLeave}>
        Leave without saving
      </button>
    </div>
  );
}

/** Ctrl+Z takes back, Ctrl+Shift+Z or Ctrl+Y brings again, wherever the focus is. */
function undoKeys(event: KeyboardEvent, draft: LayoutDraft, onChange: (draft: LayoutDraft) => void): void {
  if (!(event.ctrlKey || event.metaKey)) return;
  const key = event.key.toLowerCase();
  const again = key === "y" || (key === "z" && event.shiftKey);
  if (!again && key !== "z") return;
  event.preventDefault();
  onChange(again ? redoDraft(draft) : undoDraft(draft));
}
