import { type DragEvent, useRef, useState } from "react";
import { type Gathered, gatherChosen, gatherDropped } from "./gather-recordings.ts";
import type { PracticeSession } from "./practice-session.ts";
import type { PracticeState } from "./practice-state.ts";

/** Recordings, one or many, and the table of those that were marked. */
export interface RecordingsProps {
  /** Told of files a player chose or dropped; rejects where they cannot be looked at. */
  readonly onRecordings: (gathering: Promise<Gathered>) => void;
  /** How many are in the table of this exercise; 0 where there is none. */
  readonly inTable: number;
  readonly onTable: () => void;
}

interface RecordingWaysProps extends RecordingsProps {
  readonly session: PracticeSession;
  readonly state: PracticeState;
  readonly disabled: boolean;
}

/** What can be done with a recording that was marked. */
export function MarkedRecordingWays({ session, state, disabled, inTable, onTable }: RecordingWaysProps) {
  return (
    <>
      {state.kind === "marked" && state.keeping.kind === "offered" && (
        <button type="button" onClick={() => void session.keep()}>
          Keep in my history
        </button>
      )}
      {inTable > 0 && (
        <button type="button" disabled={disabled} onClick={onTable}>
          Table of recordings ({inTable})
        </button>
      )}
    </>
  );
}

/** Opens recordings to be marked instead of the microphone; they can also be dropped anywhere on the sheet. */
export function RecordingFiles({
  disabled,
  onRecordings,
}: Pick<RecordingWaysProps, "disabled" | "onRecordings">) {
  return (
    <>
      <FilesButton
        words="Mark recordings"
        label="Recording to mark, or several"
        folder={false}
        disabled={disabled}
        onRecordings={onRecordings}
      />
      <FilesButton
        words="Mark a folder"
        label="Folder of recordings to mark"
        folder
        disabled={disabled}
        onRecordings={onRecordings}
      />
    </>
  );
}

interface FilesButtonProps extends Pick<RecordingsProps, "onRecordings"> {
  readonly words: string;
  readonly label: string;
  readonly folder: boolean;
  readonly disabled: boolean;
}

function FilesButton({ words, label, folder, disabled, onRecordings }: FilesButtonProps) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" disabled={disabled} onClick={() => input.current?.click()}>
        {words}
      </button>
      <input
        // React knows no attribute for folders.
        ref={(element) => {
          input.current = element;
          if (element !== null) element.webkitdirectory = folder;
        }}
        type="file"
        hidden
        multiple
        accept="audio/*,.wav"
        aria-label={label}
        onChange={(event) => {
          const gathered = gatherChosen(event.target.files ?? [], folder);
          // Emptied at once, so that choosing the same again is noticed.
          event.target.value = "";
          if (gathered.folder || gathered.recordings.length > 0) onRecordings(Promise.resolve(gathered));
        }}
      />
    </>
  );
}

/** What an element needs to take recordings and folders that are dropped on it. */
export function useDrop(onRecordings: RecordingsProps["onRecordings"]) {
  const [over, setOver] = useState(false);
  return {
    over,
    handlers: {
      onDragOver: (event: DragEvent) => {
        event.preventDefault();
        setOver(true);
      },
      onDragLeave: () => setOver(false),
      onDrop: (event: DragEvent) => {
        event.preventDefault();
        setOver(false);
        if (event.dataTransfer.types.includes("Files")) onRecordings(gatherDropped(event.dataTransfer));
      },
    },
  };
}
