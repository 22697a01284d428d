import { usualProgression } from "../../core/exercise/chords.ts";
import { PATTERN_FIGURES } from "../../core/exercise/pattern-drill.ts";
import { ListChoice, RadioChoice } from "../ui/choice.tsx";
import { TextChoice } from "../ui/text-choice.tsx";
import type { DrillChoice } from "./drill-choice.ts";
import { modeOfChoice } from "./mode-of-choice.ts";
import { type PartProps, part } from "./part.ts";
import { DegreeList } from "./range-parts.tsx";

function OnDegree({ choice, onChange }: PartProps) {
  return (
    <DegreeList
      legend="On degree"
      choice={choice}
      value={choice.degree}
      onChange={(degree) => onChange({ degree })}
    />
  );
}

function ChordSize({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Chord"
      value={choice.chordSize}
      options={[
        ["triad", "triad"],
        ["seventh", "seventh"],
      ]}
      onChange={(chordSize) => onChange({ chordSize })}
    />
  );
}

function Numerals({ choice, onChange }: PartProps) {
  const mode = modeOfChoice(choice);
  const usual = mode.kind === "mode" ? usualProgression(mode.mode) : null;
  return (
    <TextChoice
      legend="Chords, in Roman numerals"
      value={choice.numerals}
      placeholder={usual ?? ""}
      most={80}
      trouble={usual === null && choice.numerals.trim() === "" ? "such as i-iv-i" : null}
      onChange={(numerals) => onChange({ numerals })}
    />
  );
}

function ChordFigure({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Each chord"
      value={choice.chordFigure}
      options={[
        ["up", "up"],
        ["up-and-back", "up and back"],
      ]}
      onChange={(chordFigure) => onChange({ chordFigure })}
    />
  );
}

function PatternChoice({ choice, onChange }: PartProps) {
  const figures = Object.keys(PATTERN_FIGURES) as DrillChoice["patternFigure"][];
  return (
    <ListChoice
      legend="Figure"
      value={choice.patternFigure}
      options={figures.map((figure) => [figure, PATTERN_FIGURES[figure].name] as const)}
      onChange={(patternFigure) => onChange({ patternFigure })}
    />
  );
}

export const ON_DEGREE = part(OnDegree, "degree");
export const CHORD_SIZE = part(ChordSize, "chordSize");
export const NUMERALS = part(Numerals, "numerals");
export const CHORD_FIGURE = part(ChordFigure, "chordFigure");
export const PATTERN = part(PatternChoice, "patternFigure");
