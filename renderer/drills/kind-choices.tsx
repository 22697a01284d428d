import { useId, useMemo } from "react";
import type { ExerciseKind } from "../../core/exercise/exercise.ts";
import { PATTERN_FIGURES } from "../../core/exercise/pattern-drill.ts";
import { reedActions } from "../../core/instrument/reed-actions.ts";
import { tab } from "../../core/instrument/tab.ts";
import { ListChoice, NumberChoice, RadioChoice } from "../ui/choice.tsx";
import type { DrillChoice } from "./drill-choice.ts";
import { harpOfChoice, type Shelf } from "./shelf.ts";
import { abilitiesOf } from "./spec-of-choice.ts";

interface KindChoicesProps {
  readonly choice: DrillChoice;
  readonly shelf: Shelf;
  readonly onChange: (part: Partial<DrillChoice>) => void;
}

type Part = (props: KindChoicesProps) => React.ReactNode;

/** Which choices each kind of drill has, in the order they are asked. */
const PARTS: Readonly<Record<ExerciseKind, readonly Part[]>> = {
  scale: [RangeChoice, FromDegree, DirectionChoice, StartChoice, NotesPerBeat, RhythmChoice, AccentChoice],
  arpeggio: [DegreeChoice, ChordSize, RangeChoice, DirectionChoice, NotesPerBeat],
  progression: [Numerals, Repeats, NotesPerBeat],
  pattern: [
    PatternChoice,
    RangeChoice,
    FromDegree,
    DirectionChoice,
    NotesPerBeat,
    RhythmChoice,
    AccentChoice,
  ],
  bend: [BendFigure, BendChoice, Repeats, Rest, TargetShown],
  "breath-pair": [FirstAction, SecondAction],
  "hole-jumps": [Jump, JumpBreath, Repeats, NotesPerBeat],
  "one-breath": [RunBreath, Repeats, NotesPerBeat],
  "long-tones": [Tone, Rest, RangeChoice, DirectionChoice],
  "random-notes": [Asked, Count, RangeChoice, Order],
};

/** The choices that belong to the kind of drill chosen, and no others. */
export function KindChoices({ choice, shelf, onChange }: KindChoicesProps) {
  return PARTS[choice.kind].map((Part) => (
    <Part key={Part.name} choice={choice} shelf={shelf} onChange={onChange} />
  ));
}

function RangeChoice({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Range"
      value={choice.octaves}
      options={[
        [1, "one octave"],
        [2, "two"],
        ["plain range", "all plain notes"],
      ]}
      onChange={(octaves) => onChange({ octaves })}
    />
  );
}

function DirectionChoice({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Direction"
      value={choice.direction}
      options={[
        ["up", "up"],
        ["down", "down"],
        ["both", "both"],
      ]}
      onChange={(direction) => onChange({ direction })}
    />
  );
}

function StartChoice({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Begin on"
      value={choice.start}
      options={[
        ["easiest", "easiest home note"],
        ["lowest", "lowest"],
      ]}
      onChange={(start) => onChange({ start })}
    />
  );
}

function NotesPerBeat({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Notes to the beat"
      value={choice.notesPerBeat}
      options={([1, 2, 3, 4] as const).map((n) => [n, String(n)] as const)}
      onChange={(notesPerBeat) => onChange({ notesPerBeat })}
    />
  );
}

function RhythmChoice({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Rhythm"
      value={choice.rhythm}
      options={[
        ["even", "even"],
        ["dotted", "dotted"],
        ["swung 2:1", "swung 2:1"],
      ]}
      onChange={(rhythm) => onChange({ rhythm })}
    />
  );
}

function FromDegree({ choice, onChange }: KindChoicesProps) {
  return (
    <ListChoice
      legend="From degree"
      value={choice.fromDegree}
      options={DEGREES.map((degree) => [degree, degree] as const)}
      onChange={(fromDegree) => onChange({ fromDegree })}
    />
  );
}

function AccentChoice({ choice, onChange }: KindChoicesProps) {
  return (
    <ListChoice
      legend="Accents"
      value={choice.accents}
      options={[
        ["none", "none"],
        ["bars", "each bar"],
        ["beats", "each beat"],
        ["off-beats", "off the beat"],
      ]}
      onChange={(accents) => onChange({ accents })}
    />
  );
}

const DEGREES = ["1", "2", "3", "4", "5", "6", "7"] as const;

function DegreeChoice({ choice, onChange }: KindChoicesProps) {
  return (
    <ListChoice
      legend="On degree"
      value={choice.degree}
      options={DEGREES.map((degree) => [degree, degree] as const)}
      onChange={(degree) => onChange({ degree })}
    />
  );
}

function ChordSize({ choice, onChange }: KindChoicesProps) {
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

function Numerals({ choice, onChange }: KindChoicesProps) {
  const id = useId();
  return (
    <div className="choice">
      <label htmlFor={id}>Chords, in Roman numerals</label>
      <input
        id={id}
        type="text"
        value={choice.numerals}
        maxLength={80}
        onChange={(event) => onChange({ numerals: event.target.value })}
      />
    </div>
  );
}

function PatternChoice({ choice, onChange }: KindChoicesProps) {
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

function BendFigure({ choice, onChange }: KindChoicesProps) {
  return (
    <ListChoice
      legend="Do what"
      value={choice.bendFigure}
      options={[
        ["hold", "reach it and hold"],
        ["from-above", "plain, then bent"],
        ["match", "match the plain note"],
        ["ladder", "step by step"],
      ]}
      onChange={(bendFigure) => onChange({ bendFigure })}
    />
  );
}

/** Tabs of what the harp of a choice can sound. */
function useTabs(choice: DrillChoice, shelf: Shelf, bentOnly: boolean): readonly string[] {
  return useMemo(() => {
    const harp = harpOfChoice(choice, 440, shelf);
    if (harp === null) return [];
    const actions = reedActions(harp.layout, abilitiesOf(choice)).map(({ action }) => action);
    return actions.filter((action) => !bentOnly || action.technique === "bend").map((action) => tab(action));
  }, [choice, shelf, bentOnly]);
}

function BendChoice({ choice, shelf, onChange }: KindChoicesProps) {
  const tabs = useTabs(choice, shelf, true);
  const value = tabs.includes(choice.bend) ? choice.bend : "any";
  return (
    <ListChoice
      legend="Which bend"
      value={value}
      options={[["any", "any of this harp"], ...tabs.map((one) => [one, one] as const)]}
      onChange={(bend) => onChange({ bend })}
    />
  );
}

function TargetShown({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Pitch while playing"
      value={choice.targetShown ? "shown" : "hidden"}
      options={[
        ["shown", "shown"],
        ["hidden", "by ear"],
      ]}
      onChange={(shown) => onChange({ targetShown: shown === "shown" })}
    />
  );
}

function FirstAction({ choice, shelf, onChange }: KindChoicesProps) {
  const tabs = useTabs(choice, shelf, false);
  return (
    <ListChoice
      legend="From"
      value={choice.first}
      options={tabs.map((one) => [one, one] as const)}
      onChange={(first) => onChange({ first })}
    />
  );
}

function SecondAction({ choice, shelf, onChange }: KindChoicesProps) {
  const tabs = useTabs(choice, shelf, false);
  return (
    <ListChoice
      legend="To and back"
      value={choice.second}
      options={tabs.map((one) => [one, one] as const)}
      onChange={(second) => onChange({ second })}
    />
  );
}

function Jump({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Holes to jump"
      value={choice.jump}
      options={([1, 2, 3, 4] as const).map((n) => [n, String(n)] as const)}
      onChange={(jump) => onChange({ jump })}
    />
  );
}

function JumpBreath({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Breath"
      value={choice.jumpBreath}
      options={[
        ["blow", "out"],
        ["draw", "in"],
        ["alternate", "out and in"],
      ]}
      onChange={(jumpBreath) => onChange({ jumpBreath })}
    />
  );
}

function RunBreath({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Breath"
      value={choice.runBreath}
      options={[
        ["longest", "whichever runs longer"],
        ["blow", "out"],
        ["draw", "in"],
      ]}
      onChange={(runBreath) => onChange({ runBreath })}
    />
  );
}

function Repeats({ choice, onChange }: KindChoicesProps) {
  return (
    <NumberChoice
      legend="Times"
      unit="repeats"
      value={choice.repeats}
      low={1}
      high={32}
      step={1}
      onChange={(repeats) => onChange({ repeats })}
    />
  );
}

function Tone({ choice, onChange }: KindChoicesProps) {
  return (
    <NumberChoice
      legend="Each tone"
      unit="beats"
      value={choice.toneBeats}
      low={1}
      high={16}
      step={1}
      onChange={(toneBeats) => onChange({ toneBeats })}
    />
  );
}

function Rest({ choice, onChange }: KindChoicesProps) {
  return (
    <NumberChoice
      legend="Rest after it"
      unit="beats"
      value={choice.restBeats}
      low={0}
      high={16}
      step={1}
      onChange={(restBeats) => onChange({ restBeats })}
    />
  );
}

function Asked({ choice, onChange }: KindChoicesProps) {
  return (
    <RadioChoice
      legend="Asked for"
      value={choice.targetAs}
      options={[
        ["name", "by name"],
        ["degree", "by degree"],
        ["heard", "by ear"],
      ]}
      onChange={(targetAs) => onChange({ targetAs })}
    />
  );
}

function Count({ choice, onChange }: KindChoicesProps) {
  return (
    <NumberChoice
      legend="How many"
      unit="notes"
      value={choice.count}
      low={8}
      high={64}
      step={1}
      onChange={(count) => onChange({ count })}
    />
  );
}

/** The next order comes from the next number, so that an order can be had again. */
function Order({ choice, onChange }: KindChoicesProps) {
  return (
    <NumberChoice
      legend="Order"
      unit="any number"
      value={choice.seed}
      low={0}
      high={2 ** 32 - 1}
      step={1}
      onChange={(seed) => onChange({ seed })}
    />
  );
}
