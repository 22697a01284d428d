import type { Exercise } from "../../core/exercise/exercise.ts";
import { SettingsScreen } from "../settings/settings-screen.tsx";
import type { Settings } from "../store/settings-store.ts";
import { SettingsArchives } from "./archive-parts.tsx";
import type { Services } from "./services.ts";
import type { GivenFiles } from "./use-given-files.ts";
import { useKeeping } from "./use-keeping.ts";

interface SettingsRoomProps {
  readonly services: Pick<
    Services,
    | "reference"
    | "upkeep"
    | "persistence"
    | "secondCopy"
    | "runningTakes"
    | "archiving"
    | "nowEpochMs"
    | "zone"
  >;
  readonly settings: Settings;
  /** Whose tempo and metre the beat is heard in. */
  readonly exercise: Exercise | null;
  readonly onSettings: (part: Partial<Settings>) => void;
  readonly onFirstSteps: () => void;
  readonly onAbout: () => void;
  /** An archive given from outside is looked through. */
  readonly given: Pick<GivenFiles, "archive" | "archiveTaken">;
  /** Everything that is kept has become another; the words say what was done. */
  readonly onBeginAgain: (words: string) => Promise<void>;
}

/** Everything that is set once; a few beats let one hear how they sound. */
export function SettingsRoom({
  services,
  settings,
  exercise,
  onSettings,
  onFirstSteps,
  onAbout,
  given,
  onBeginAgain,
}: SettingsRoomProps) {
  const keeping = useKeeping(services);
  const hearBeat = async () => {
    if (exercise === null) return;
    const sounding = await services.reference.play(exercise, {
      notes: false,
      metronome: "all",
      countIn: false,
      onBeat: (beat) => beat > exercise.beatsPerBar && sounding.stop(),
    });
  };
  return (
    <SettingsScreen
      settings={settings}
      onChange={onSettings}
      onHearBeat={hearBeat}
      keeping={keeping}
      archives={<SettingsArchives services={services} onChanged={onBeginAgain} given={given} />}
    >
      <p>
        <button
          type="button"
          onClick={() => {
            onSettings({ firstSteps: {} });
            onFirstSteps();
          }}
        >
          Show the first steps again
        </button>
      </p>
      <p>
        <button type="button" onClick={onAbout}>
          About Reedpath
        </button>
      </p>
    </SettingsScreen>
  );
}
