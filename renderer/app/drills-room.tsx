import type { Exercise } from "../../core/exercise/exercise.ts";
import type { DrillChoice } from "../drills/drill-choice.ts";
import { DrillsScreen } from "../drills/drills-screen.tsx";
import { exerciseOfChoice } from "../drills/exercise-of-choice.ts";
import type { Shelf } from "../drills/shelf.ts";
import type { Settings } from "../store/settings-store.ts";

interface DrillsRoomProps {
  readonly choice: DrillChoice;
  readonly settings: Settings;
  readonly shelf: Shelf;
  readonly onSettings: (part: Partial<Settings>) => void;
  readonly onPractise: (exercise: Exercise) => void;
  readonly onHear: (exercise: Exercise, onEnd: () => void) => Promise<() => void>;
}

/** Choosing a drill; the choice is kept as it changes. */
export function DrillsRoom({ choice, settings, shelf, onSettings, onPractise, onHear }: DrillsRoomProps) {
  const practise = () => {
    const made = exerciseOfChoice(choice, settings.a4Hz, shelf);
    if (made.kind === "exercise") onPractise(made.exercise);
  };
  return (
    <DrillsScreen
      choice={choice}
      a4Hz={settings.a4Hz}
      shelf={shelf}
      onChange={(next) => onSettings({ lastDrill: { ...next } })}
      onPractise={practise}
      onHear={onHear}
    />
  );
}
