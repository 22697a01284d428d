import { useEffect, useId, useRef, useState } from "react";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Layout } from "../../core/instrument/layout.ts";
import { type ChosenHarp, harpOfChoice } from "../ui/chosen-harp.ts";
import { HarpChoice } from "../ui/harp-choice.tsx";
import { OwnTuning } from "./own-tuning.tsx";

interface HarpFormProps {
  readonly title: string;
  readonly first: ChosenHarp;
  readonly firstNote: string;
  readonly own: readonly Layout[];
  readonly a4Hz: number;
  readonly onKeep: (harp: Harp, note: string) => void;
  readonly onCancel: () => void;
}

const LONGEST_NOTE = 200;

/** One harp of the player's, new or changed. Enter keeps it, Escape does not. */
export function HarpForm({ title, first, firstNote, own, a4Hz, onKeep, onCancel }: HarpFormProps) {
  const [chosen, setChosen] = useState(first);
  const [note, setNote] = useState(firstNote);
  const form = useRef<HTMLFormElement>(null);
  const noteId = useId();
  useEffect(() => form.current?.querySelector("select")?.focus(), []);
  return (
    <form
      ref={form}
      aria-label={title}
      onSubmit={(event) => {
        event.preventDefault();
        onKeep(harpOfChoice(chosen, a4Hz), note.trim());
      }}
      onKeyDown={(event) => event.key === "Escape" && onCancel()}
    >
      <h2>{title}</h2>
      <div className="harp-form">
        <HarpChoice chosen={chosen} own={own} onChange={setChosen} />
        <div className="choice">
          <label htmlFor={noteId}>Note</label>
          <input
            id={noteId}
            type="text"
            value={note}
            maxLength={LONGEST_NOTE}
            onChange={(event) => setNote(event.target.value)}
          />
        </div>
      </div>
      <OwnTuning
        layout={chosen.layout}
        temperament={chosen.temperament}
        onChange={(temperament) => setChosen({ ...chosen, temperament })}
      />
      <p className="row">
        <button type="submit" className="main">
          Keep this harp
        </button>
        <button type="button" onClick={onCancel}>
          Leave it as it was
        </button>
      </p>
    </form>
  );
}
