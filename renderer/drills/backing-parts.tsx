import type { BackingStrokes } from "../../core/exercise/backing-strokes.ts";
import { usualProgression } from "../../core/exercise/chords.ts";
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
      most={480}
      trouble={usual === null && choice.backingChords.trim() === "" ? "such as i-iv-i, or Em-D-Em" : null}
      onChange={(backingChords) => onChange({ backingChords })}
    />
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
export const STROKES = part(Strokes, "strokes");
export const MOST_HOLES = part(MostHoles, "mostHoles");
export const PARTIAL = part(Partial, "partialChords");
