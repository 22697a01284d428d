import { useCallback, useState } from "react";
import { MIDI_GRIDS, type MidiGrid, type MidiTrackInfo } from "../../core/tune/read-midi.ts";
import type { TuneChoices } from "../../core/tune/read-tunes.ts";
import { ListChoice } from "../ui/choice.tsx";
import { FileQuestions, usePreview } from "./file-questions.tsx";
import type { MidiPreview } from "./midi-preview.ts";
import type { TuneWork } from "./tune-work.ts";

interface MidiChoicesProps {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly work: TuneWork;
  readonly onKeep: (choices: TuneChoices) => void;
  readonly onLeave: () => void;
}

/** What a MIDI file does not say, asked before its tune is kept: which track, grid, upbeat and mode. */
export function MidiChoices({ name, bytes, work, onKeep, onLeave }: MidiChoicesProps) {
  const [choices, setChoices] = useState<TuneChoices>({});
  const read = usePreview(
    useCallback((signal: AbortSignal) => work.midi(bytes, choices, signal), [work, bytes, choices]),
  );
  return (
    <FileQuestions
      id="midi-choices"
      heading={`${name}: what a MIDI file does not say`}
      read={read}
      onKeep={() => read?.kind === "preview" && onKeep({ ...choices, mode: read.preview.mode })}
      onLeave={onLeave}
    >
      {read?.kind === "preview" && <Asked preview={read.preview} choices={choices} onChoices={setChoices} />}
    </FileQuestions>
  );
}

interface AskedProps {
  readonly preview: MidiPreview;
  readonly choices: TuneChoices;
  readonly onChoices: (choices: TuneChoices) => void;
}

const LIKELIEST = "likeliest";
/** Crotchets before the first bar line. */
const UPBEATS = [
  [0, "none, or marked in the file"],
  [0.25, "a semiquaver"],
  [0.5, "a quaver"],
  [1, "a crotchet"],
  [1.5, "a dotted crotchet"],
  [2, "a minim"],
] as const;

function Asked({ preview, choices, onChoices }: AskedProps) {
  const { tracks, track, grid, largestShiftMs, notes, mode, keys } = preview;
  const withGrid = (chosen: MidiGrid | typeof LIKELIEST) => {
    const { grid: _, ...others } = choices;
    onChoices(chosen === LIKELIEST ? others : { ...others, grid: chosen });
  };
  const grids: readonly (readonly [MidiGrid | typeof LIKELIEST, string])[] = [
    [LIKELIEST, "the likeliest for each stretch"],
    ...MIDI_GRIDS.map((one) => [one, one] as const),
  ];
  return (
    <>
      <div className="tune-ways">
        <ListChoice
          legend="Track"
          value={track}
          options={tracks.map((one) => [one.index, trackInWords(one)])}
          onChange={(chosen) => onChoices({ ...choices, track: chosen })}
        />
        <ListChoice legend="Grid" value={choices.grid ?? LIKELIEST} options={grids} onChange={withGrid} />
        <ListChoice
          legend="Upbeat"
          value={choices.upbeatCrotchets ?? 0}
          options={UPBEATS}
          onChange={(chosen) => onChoices({ ...choices, upbeatCrotchets: chosen })}
        />
        <ListChoice
          legend="Mode"
          value={mode}
          options={keys}
          onChange={(chosen) => onChoices({ ...choices, mode: chosen })}
        />
      </div>
      <p role="status">
        {notes} {notes === 1 ? "note" : "notes"} on the grid {grid}; none is moved by more than{" "}
        {largestShiftMs} ms.
      </p>
      <p className="soft">The mode is the one whose home note the tune comes to rest on.</p>
    </>
  );
}

const trackInWords = ({ name, index, channel, noteCount }: MidiTrackInfo) =>
  `${name === "" ? `track ${index}` : name}, channel ${channel}, ${noteCount} ${noteCount === 1 ? "note" : "notes"}`;
