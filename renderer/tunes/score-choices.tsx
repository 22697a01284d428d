import { useCallback, useState } from "react";
import type { TuneChoices } from "../../core/tune/read-tunes.ts";
import { ListChoice } from "../ui/choice.tsx";
import { FileQuestions, usePreview } from "./file-questions.tsx";
import type { ScorePreview } from "./score-preview.ts";
import type { TuneWork } from "./tune-work.ts";

interface ScoreChoicesProps {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly work: TuneWork;
  readonly onKeep: (choices: TuneChoices) => void;
  readonly onLeave: () => void;
}

/** Which part and voice of a MusicXML file is the tune, asked before it is kept. */
export function ScoreChoices({ name, bytes, work, onKeep, onLeave }: ScoreChoicesProps) {
  const [choices, setChoices] = useState<TuneChoices>({});
  const read = usePreview(
    useCallback((signal: AbortSignal) => work.score(bytes, choices, signal), [work, bytes, choices]),
  );
  const keep = () => {
    if (read?.kind === "preview") onKeep({ part: read.preview.part.id, voice: read.preview.voice });
  };
  return (
    <FileQuestions
      id="score-choices"
      heading={`${name}: more than one line of music`}
      read={read}
      onKeep={keep}
      onLeave={onLeave}
    >
      {read?.kind === "preview" && <Asked preview={read.preview} onChoices={setChoices} />}
    </FileQuestions>
  );
}

interface AskedProps {
  readonly preview: ScorePreview;
  readonly onChoices: (choices: TuneChoices) => void;
}

function Asked({ preview, onChoices }: AskedProps) {
  const { parts, part, voice, notes } = preview;
  return (
    <>
      <div className="tune-ways">
        {parts.length > 1 && (
          <ListChoice
            legend="Part"
            value={part.id}
            options={parts.map(({ id, name }, at) => [id, partInWords(name, at, parts)])}
            onChange={(chosen) => onChoices({ part: chosen })}
          />
        )}
        {parts.some(({ voices }) => voices.length > 1) && (
          <ListChoice
            legend="Voice"
            value={voice}
            options={part.voices.map((one) => [one.name, `${one.name}, ${notesInWords(one.noteCount)}`])}
            onChange={(chosen) => onChoices({ part: part.id, voice: chosen })}
          />
        )}
      </div>
      <p role="status">{notesInWords(notes)}, played out.</p>
    </>
  );
}

/** Parts of one name are told apart by their place in the score. */
const partInWords = (name: string, at: number, parts: ScorePreview["parts"]) =>
  parts.filter((one) => one.name === name).length > 1 ? `${name} (part ${at + 1})` : name;

const notesInWords = (count: number) => `${count} ${count === 1 ? "note" : "notes"}`;
