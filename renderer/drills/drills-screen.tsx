import { type ReactNode, useEffect, useMemo, useRef } from "react";
import type { Exercise, ExerciseKind } from "../../core/exercise/exercise.ts";
import { staffLines } from "../../core/exercise/exercise-abc.ts";
import { FASTEST, NOTE_VALUES, type NoteValue, SLOWEST, tempoSign } from "../../core/exercise/tempo.ts";
import { ListChoice, NumberChoice, RadioChoice } from "../ui/choice.tsx";
import { SheetLine } from "../ui/sheet-line.tsx";
import { useWidth } from "../ui/use-width.ts";
import type { DrillChoice } from "./drill-choice.ts";
import { exerciseOfChoice } from "./exercise-of-choice.ts";
import { HarpChoices } from "./harp-choices.tsx";
import { HearButton } from "./hear-button.tsx";
import { KindChoices } from "./kind-choices.tsx";
import type { Shelf } from "./shelf.ts";
import "./drills.css";

interface DrillsScreenProps {
  readonly choice: DrillChoice;
  readonly a4Hz: number;
  readonly shelf: Shelf;
  readonly onChange: (choice: DrillChoice) => void;
  readonly onPractise: () => void;
  /** Sounds an exercise; resolves with the way to silence it. `onEnd` is told when it has ended by itself. */
  readonly onHear: (exercise: Exercise, onEnd: () => void) => Promise<() => void>;
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
export function DrillsScreen({
  choice,
  a4Hz,
  shelf,
  onChange,
  onPractise,
  onHear,
  children,
}: DrillsScreenProps) {
  const made = useMemo(() => exerciseOfChoice(choice, a4Hz, shelf), [choice, a4Hz, shelf]);
  const practise = useRef<HTMLButtonElement>(null);
  useEffect(() => practise.current?.focus(), []);
  const change = (part: Partial<DrillChoice>) => onChange({ ...choice, ...part });
  return (
    <main className="drills">
      <h1>Which drill, for which position?</h1>
      <div className="drill-form">
        <HarpChoices choice={choice} shelf={shelf} onChange={onChange} />
        <TempoChoice choice={choice} onChange={change} />
      </div>
      <RadioChoice
        legend="Kind of drill"
        value={choice.kind}
        options={KIND_WORDS}
        onChange={(kind) => change({ kind })}
      />
      <div className="drill-form">
        <KindChoices choice={choice} shelf={shelf} onChange={change} />
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
        </span>{" "}
        {made.kind === "exercise" && <HearButton exercise={made.exercise} onHear={onHear} />}
      </p>
      {children}
    </main>
  );
}

const KIND_WORDS: readonly (readonly [kind: ExerciseKind, words: string])[] = [
  ["scale", "scale"],
  ["arpeggio", "broken chord"],
  ["progression", "row of chords"],
  ["pattern", "figure through the scale"],
  ["long-tones", "long tones"],
  ["bend", "bends"],
  ["breath-pair", "two notes, back and forth"],
  ["hole-jumps", "hole jumps"],
  ["one-breath", "one breath"],
  ["random-notes", "random notes"],
];

interface PartProps {
  readonly choice: DrillChoice;
  readonly onChange: (part: Partial<DrillChoice>) => void;
}

function TempoChoice({ choice, onChange }: PartProps) {
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
      {exercise.caution !== undefined && <p className="caution">{exercise.caution}</p>}
      {line !== undefined && exercise.targetAs === undefined && (
        <SheetLine exercise={exercise} line={line} width={width} now={null} />
      )}
    </section>
  );
}
