import { type ReactNode, useEffect, useMemo, useRef } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { staffLines } from "../../core/exercise/exercise-abc.ts";
import { FASTEST, NOTE_VALUES, type NoteValue, SLOWEST, tempoSign } from "../../core/exercise/tempo.ts";
import { harpInKey, KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { positionHomeName, positionName } from "../../core/instrument/positions.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { MODE_NAMES } from "../../core/pitch/modes.ts";
import { ListChoice, NumberChoice, RadioChoice } from "../ui/choice.tsx";
import { SheetLine } from "../ui/sheet-line.tsx";
import { useWidth } from "../ui/use-width.ts";
import { type DrillChoice, exerciseOfChoice, withPosition } from "./drill-choice.ts";
import "./drills.css";

interface DrillsScreenProps {
  readonly choice: DrillChoice;
  readonly a4Hz: number;
  readonly onChange: (choice: DrillChoice) => void;
  readonly onPractise: () => void;
  /** What stands below the drill: the settings of the sound. */
  readonly children?: ReactNode;
}

const NOTE_VALUE_WORDS: Readonly<Record<NoteValue, string>> = {
  "1/8": "quaver",
  "1/4": "crotchet",
  "3/8": "dotted crotchet",
  "1/2": "minim",
};

/** Which drill, for which position? */
export function DrillsScreen({ choice, a4Hz, onChange, onPractise, children }: DrillsScreenProps) {
  const made = useMemo(() => exerciseOfChoice(choice, a4Hz), [choice, a4Hz]);
  const practise = useRef<HTMLButtonElement>(null);
  useEffect(() => practise.current?.focus(), []);
  const change = (part: Partial<DrillChoice>) => onChange({ ...choice, ...part });
  return (
    <main className="drills">
      <h1>Which drill, for which position?</h1>
      <div className="drill-form">
        <HarpAndPosition choice={choice} onChange={onChange} />
        <ScaleShape choice={choice} onChange={change} />
        <TempoChoice choice={choice} onChange={change} />
      </div>
      {made.kind === "impossible" ? (
        <p className="notice" role="alert">
          This cannot be played: {made.reason}.
        </p>
      ) : (
        <Preview exercise={made.exercise} />
      )}
      <p>
        <button
          ref={practise}
          type="button"
          className="main"
          disabled={made.kind === "impossible"}
          onClick={onPractise}
        >
          Practise this
        </button>{" "}
        <span className="soft">
          <kbd>Enter</kbd>
        </span>
      </p>
      {children}
    </main>
  );
}

interface PartProps {
  readonly choice: DrillChoice;
  readonly onChange: (choice: DrillChoice) => void;
}

function HarpAndPosition({ choice, onChange }: PartProps) {
  const homes = useMemo(() => homeNames(choice.key), [choice.key]);
  return (
    <>
      <ListChoice
        legend="Harp"
        value={choice.key}
        options={KEYS_BY_REGISTER.map((key) => [key, `${key} harp`] as const)}
        onChange={(key) => onChange({ ...choice, key })}
      />
      <RadioChoice
        legend="Position"
        value={choice.position}
        options={[1, 2, 3].map((n) => [n, `${positionName(n)}, home ${homes[n - 1] ?? ""}`] as const)}
        onChange={(position) => onChange(withPosition(choice, position))}
      />
      <ListChoice
        legend="Mode"
        value={choice.mode}
        options={MODE_NAMES.map((mode) => [mode, mode] as const)}
        onChange={(mode) => onChange({ ...choice, mode })}
      />
    </>
  );
}

function homeNames(key: string): readonly string[] {
  const harp = harpInKey(STANDARD_LAYOUT, key);
  return harp === null ? [] : [1, 2, 3].map((position) => positionHomeName(harp, position));
}

interface ShapeProps {
  readonly choice: DrillChoice;
  readonly onChange: (part: Partial<DrillChoice>) => void;
}

function ScaleShape({ choice, onChange }: ShapeProps) {
  return (
    <>
      <RadioChoice
        legend="Range"
        value={choice.octaves}
        options={[
          [1, "one octave"],
          [2, "two octaves"],
        ]}
        onChange={(octaves) => onChange({ octaves })}
      />
      <RadioChoice
        legend="Direction"
        value={choice.direction}
        options={[
          ["up", "up"],
          ["down", "down"],
          ["both", "up and down"],
        ]}
        onChange={(direction) => onChange({ direction })}
      />
      <RadioChoice
        legend="Begin on"
        value={choice.start}
        options={[
          ["easiest", "easiest home note"],
          ["lowest", "lowest home note"],
        ]}
        onChange={(start) => onChange({ start })}
      />
      <RadioChoice
        legend="Bends"
        value={choice.bends ? "yes" : "no"}
        options={[
          ["yes", "I can bend"],
          ["no", "plain notes only"],
        ]}
        onChange={(bends) => onChange({ bends: bends === "yes" })}
      />
    </>
  );
}

function TempoChoice({ choice, onChange }: ShapeProps) {
  return (
    <>
      <NumberChoice
        legend="Tempo"
        unit="beats a minute"
        value={choice.bpm}
        low={SLOWEST}
        high={FASTEST}
        step={1}
        onChange={(bpm) => onChange({ bpm })}
      />
      <ListChoice
        legend="A beat is a"
        value={choice.noteValue}
        options={NOTE_VALUES.map((value) => [value, NOTE_VALUE_WORDS[value]] as const)}
        onChange={(noteValue) => onChange({ noteValue })}
      />
      <RadioChoice
        legend="Notes to the beat"
        value={choice.notesPerBeat}
        options={[
          [1, "1"],
          [2, "2"],
          [3, "3"],
          [4, "4"],
        ]}
        onChange={(notesPerBeat) => onChange({ notesPerBeat })}
      />
    </>
  );
}

const PREVIEW_BARS = 4;

function Preview({ exercise }: { readonly exercise: Exercise }) {
  const [box, width] = useWidth<HTMLDivElement>(960);
  const line = useMemo(() => staffLines(exercise, PREVIEW_BARS)[0], [exercise]);
  return (
    <section aria-label="Preview" ref={box}>
      <p className="preview-title">
        {exercise.title} <span className="soft">{tempoSign(exercise.tempo)}</span>
      </p>
      <p>{exercise.trains}</p>
      {line !== undefined && <SheetLine exercise={exercise} line={line} width={width} now={null} />}
    </section>
  );
}
