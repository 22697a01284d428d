import type { Exercise } from "../../core/exercise/exercise.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { type DrillChoice, FIRST_CHOICE } from "../drills/drill-choice.ts";
import { exerciseOfChoice } from "../drills/exercise-of-choice.ts";
import type { Shelf } from "../drills/shelf.ts";
import { withPosition } from "../drills/shelf.ts";
import type { OwnedHarp } from "../store/harp-store.ts";
import type { Settings } from "../store/settings-store.ts";
import { FirstSteps } from "../today/first-steps.tsx";
import { type ChosenHarp, harpOfChoice } from "../ui/chosen-harp.ts";
import type { Services } from "./services.ts";

interface FirstRunProps {
  readonly services: Pick<Services, "openMicrophone" | "newId">;
  readonly settings: Settings;
  readonly choice: DrillChoice;
  readonly shelf: Shelf;
  readonly onSettings: (part: Partial<Settings>) => void;
  readonly onKeepHarp: (harp: OwnedHarp) => void;
  readonly onPractise: (exercise: Exercise) => void;
  /** Opens the exercise with a simulated player's take. */
  readonly onDemonstration: (exercise: Exercise) => void;
}

/** The first steps, joined to the harps, the microphone and the drills. */
export function FirstRun(props: FirstRunProps) {
  const { services, settings, choice, shelf, onSettings, onKeepHarp, onPractise, onDemonstration } = props;
  const exercise = firstDrill(choice, settings.a4Hz, shelf);
  return (
    <FirstSteps
      steps={settings.firstSteps}
      onSteps={(steps) => onSettings({ firstSteps: states(steps) })}
      ownLayouts={shelf.layouts}
      onHarp={(chosen) => {
        const id = services.newId();
        onKeepHarp({ id, harp: harpOfChoice(chosen, settings.a4Hz), note: "" });
        onSettings({ lastDrill: onThisHarp(chosen, id, shelf) });
      }}
      openMicrophone={() => services.openMicrophone(settings.input)}
      drillTitle={exercise === null ? "" : `${exercise.title} on a ${harpName(exercise.harp)}`}
      onDrill={() => exercise !== null && onPractise(exercise)}
      onDemonstration={() => exercise !== null && onDemonstration(exercise)}
    />
  );
}

const states = (steps: Readonly<Partial<Record<string, "done" | "skipped">>>): Settings["firstSteps"] =>
  Object.fromEntries(Object.entries(steps).flatMap(([step, state]) => (state ? [[step, state]] : [])));

/** Drills set to a harp, in its own key: a first drill goes where every note is plain. */
function onThisHarp({ layout, key, register }: ChosenHarp, id: string, shelf: Shelf): DrillChoice {
  const choice = { ...FIRST_CHOICE, ownHarp: id, layout: layout.id, key, register };
  return withPosition(choice, 1, shelf);
}

const SLOWLY_BPM = 60;

/** A scale up and down, slowly; null on a harp that has none in the position chosen. */
function firstDrill(choice: DrillChoice, a4Hz: number, shelf: Shelf): Exercise | null {
  const slow: DrillChoice = { ...choice, kind: "scale", bpm: SLOWLY_BPM, notesPerBeat: 1, octaves: 1 };
  const made = exerciseOfChoice(slow, a4Hz, shelf);
  return made.kind === "exercise" ? made.exercise : null;
}
