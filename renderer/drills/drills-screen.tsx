import { useEffect, useMemo, useRef } from "react";
import type { DrillKind } from "../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { staffLines } from "../../core/exercise/exercise-abc.ts";
import { tempoSign } from "../../core/tune/tempo.ts";
import { RadioChoice } from "../ui/choice.tsx";
import { SheetLine } from "../ui/sheet-line.tsx";
import { useWidth } from "../ui/use-width.ts";
import { useWriting } from "../ui/writing.ts";
import { BeatChoices, MORE_OF_BEAT } from "./beat-choices.tsx";
import type { DrillChoice } from "./drill-choice.ts";
import { exerciseOfChoice } from "./exercise-of-choice.ts";
import { HarpChoices, MORE_OF_HARP } from "./harp-choices.tsx";
import { HearButton } from "./hear-button.tsx";
import { KindChoices, Parts } from "./kind-choices.tsx";
import { MoreChoices } from "./more-choices.tsx";
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
}

/** Which drill, for which position? */
export function DrillsScreen({ choice, a4Hz, shelf, onChange, onPractise, onHear }: DrillsScreenProps) {
  const made = useMemo(() => exerciseOfChoice(choice, a4Hz, shelf), [choice, a4Hz, shelf]);
  const { say } = useWriting();
  const practise = useRef<HTMLButtonElement>(null);
  useEffect(() => practise.current?.focus(), []);
  const change = (part: Partial<DrillChoice>) => onChange({ ...choice, ...part });
  return (
    <main className="drills">
      <h1>Which drill, for which position?</h1>
      <div className="drill-harp">
        <HarpChoices choice={choice} shelf={shelf} onChange={onChange} />
        <BeatChoices choice={choice} shelf={shelf} onChange={change} />
        <MoreChoices words="More of harp and beat" parts={MORE} choice={choice}>
          <div className="drill-harp">
            <Parts parts={MORE} choice={choice} shelf={shelf} onChange={change} />
          </div>
        </MoreChoices>
      </div>
      <div className="drill-kind">
        <RadioChoice
          legend="Kind of drill"
          value={choice.kind}
          options={KIND_WORDS}
          onChange={(kind) => change({ kind })}
        />
        <KindChoices choice={choice} shelf={shelf} onChange={change} />
        {made.kind === "impossible" ? (
          <p className="notice" role="alert">
            This cannot be played: {say(made.reason)}.
          </p>
        ) : (
          <Preview exercise={made.exercise} />
        )}
      </div>
      <p className="drill-start">
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
    </main>
  );
}

const MORE = [...MORE_OF_HARP, ...MORE_OF_BEAT];

const KIND_WORDS: readonly (readonly [kind: DrillKind, words: string])[] = [
  ["scale", "scale"],
  ["arpeggio", "broken chord"],
  ["progression", "row of chords"],
  ["backing", "backing in chords"],
  ["pattern", "figure through the scale"],
  ["long-tones", "long tones"],
  ["bend", "bends, overblows"],
  ["breath-pair", "two notes in turn"],
  ["hole-jumps", "hole jumps"],
  ["one-breath", "one breath"],
  ["random-notes", "random notes"],
];

const PREVIEW_BARS = 4;

function Preview({ exercise }: { readonly exercise: Exercise }) {
  const { say } = useWriting();
  const [box, width] = useWidth<HTMLDivElement>(960);
  const line = useMemo(() => staffLines(exercise, PREVIEW_BARS)[0], [exercise]);
  return (
    <section aria-label="Preview" ref={box}>
      <p className="preview-title">
        {say(exercise.title)} <span className="soft">{tempoSign(exercise.tempo)}</span>
      </p>
      <p>{say(exercise.trains)}</p>
      {exercise.caution !== undefined && <p className="caution">{exercise.caution}</p>}
      {line !== undefined && exercise.targetAs === undefined && (
        <SheetLine exercise={exercise} line={line} width={width} now={null} />
      )}
    </section>
  );
}
