import { LEAST_SWING, MOST_SWING, NOTES_PER_BEAT } from "../../core/exercise/rhythm.ts";
import { ListChoice, NumberChoice, RadioChoice } from "../ui/choice.tsx";
import { type Part, type PartProps, part } from "./part.ts";

function NotesPerBeat({ choice, onChange }: PartProps) {
  return (
    <RadioChoice
      legend="Notes to the beat"
      value={choice.notesPerBeat}
      options={NOTES_PER_BEAT.map((n) => [n, String(n)] as const)}
      onChange={(notesPerBeat) => onChange({ notesPerBeat })}
    />
  );
}

/** One note to the beat leaves nothing to divide. */
function RhythmChoice({ choice, onChange }: PartProps) {
  if (choice.notesPerBeat === 1) return null;
  return (
    <RadioChoice
      legend="Rhythm"
      value={choice.rhythm}
      options={[
        ["even", "even"],
        ["dotted", "dotted"],
        ["swung", "swung"],
      ]}
      onChange={(rhythm) => onChange({ rhythm })}
    />
  );
}

function SwingChoice({ choice, onChange }: PartProps) {
  if (choice.notesPerBeat === 1 || choice.rhythm !== "swung") return null;
  return (
    <NumberChoice
      legend="Swing"
      unit="to 1"
      value={choice.swing}
      low={LEAST_SWING}
      high={MOST_SWING}
      step={0.1}
      onChange={(swing) => onChange({ swing })}
    />
  );
}

function AccentChoice({ choice, onChange }: PartProps) {
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

/** How the notes of a drill run. */
export const RUNNING: readonly Part[] = [
  part(NotesPerBeat, "notesPerBeat"),
  part(RhythmChoice, "rhythm"),
  part(SwingChoice, "swing"),
  part(AccentChoice, "accents"),
];
