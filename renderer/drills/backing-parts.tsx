import { useState } from "react";
import type { BackingStrokes } from "../../core/exercise/backing-strokes.ts";
import { usualProgression } from "../../core/exercise/chords.ts";
import { FASTEST, SLOWEST } from "../../core/tune/tempo.ts";
import { ListChoice, RadioChoice } from "../ui/choice.tsx";
import { TextChoice } from "../ui/text-choice.tsx";
import { modeOfChoice } from "./mode-of-choice.ts";
import { type PartProps, part } from "./part.ts";

const STROKE_WORDS: Readonly<Record<BackingStrokes, string>> = {
  beats: "once a beat",
  halves: "twice a beat",
  "off-beats": "after each beat",
  "long-short": "long and short, as in a jig",
  held: "held",
};

function BackingChords({ choice, onChange }: PartProps) {
  const mode = modeOfChoice(choice);
  const usual = mode.kind === "mode" ? usualProgression(mode.mode) : null;
  return (
    <TextChoice
      legend="Chords, a bar each"
      value={choice.backingChords}
      placeholder={usual ?? ""}
      most={2000}
      trouble={usual === null && choice.backingChords.trim() === "" ? "such as i-iv-i, or Em-D-Em" : null}
      onChange={(backingChords) => onChange({ backingChords })}
    />
  );
}

/** Takes on the chords of a tune, with its beat and bar, struck as its dance is. */
function ChordsOfTune({ shelf, onChange }: PartProps) {
  const [reason, setReason] = useState<string | null>(null);
  const tunes = shelf.backings?.tunes ?? [];
  const take = async (id: string) => {
    const backing = await shelf.backings?.of(id);
    setReason(backing?.kind === "none" ? backing.reason : null);
    if (backing?.kind !== "backing") return;
    const { chords: backingChords, beatsPerBar, strokes } = backing;
    const { noteValue, bpm } = backing.tempo;
    onChange({
      backingChords,
      beatsPerBar,
      noteValue,
      strokes,
      bpm: Math.min(FASTEST, Math.max(SLOWEST, bpm)),
    });
  };
  return (
    <div>
      <ListChoice
        legend="Or the chords of a tune"
        value=""
        options={[["", "choose a tune"], ...tunes.map(({ id, title }) => [id, title] as const)]}
        onChange={(id) => void take(id)}
      />
      {reason !== null && (
        <p className="soft" role="status">
          {reason}.
        </p>
      )}
    </div>
  );
}

function Strokes({ choice, onChange }: PartProps) {
  const strokes = Object.keys(STROKE_WORDS) as BackingStrokes[];
  return (
    <ListChoice
      legend="Each chord is struck"
      value={choice.strokes}
      options={strokes.map((one) => [one, STROKE_WORDS[one]] as const)}
      onChange={(one) => onChange({ strokes: one })}
    />
  );
}

function MostHoles({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Holes at once, at most"
      value={choice.mostHoles}
      options={[
        [2, "2"],
        [3, "3"],
        [4, "4"],
      ]}
      onChange={(mostHoles) => onChange({ mostHoles })}
    />
  );
}

function Partial({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Where the harp lacks a note of a chord"
      value={choice.partialChords ? "rest" : "none"}
      options={[
        ["rest", "play the rest"],
        ["none", "make no drill"],
      ]}
      onChange={(wanted) => onChange({ partialChords: wanted === "rest" })}
    />
  );
}

export const BACKING_CHORDS = part(BackingChords, "backingChords");
export const CHORDS_OF_TUNE = part(
  ChordsOfTune,
  "backingChords",
  "beatsPerBar",
  "noteValue",
  "strokes",
  "bpm",
);
export const STROKES = part(Strokes, "strokes");
export const MOST_HOLES = part(MostHoles, "mostHoles");
export const PARTIAL = part(Partial, "partialChords");
