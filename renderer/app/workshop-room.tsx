import type { Settings } from "../store/settings-store.ts";
import type { WorkshopPart } from "../workshop/workshop-parts.ts";
import { WorkshopScreen } from "../workshop/workshop-screen.tsx";

interface WorkshopRoomProps {
  readonly part: WorkshopPart;
  readonly onPart: (part: WorkshopPart) => void;
  readonly settings: Settings;
  readonly onSettings: (part: Partial<Settings>) => void;
}

const REED_WORK = "Reed work";

/** What comes before practice: which layout, how to get there, and how the reeds are tuned. */
export function WorkshopRoom({ part, onPart, settings, onSettings }: WorkshopRoomProps) {
  const { cautionsRead } = settings;
  return (
    <WorkshopScreen
      part={part}
      onPart={onPart}
      cautionRead={cautionsRead.includes(REED_WORK)}
      onCautionRead={() => onSettings({ cautionsRead: [...cautionsRead, REED_WORK] })}
    >
      {part === "design" && (
        <p>Here a layout will be looked for, from the harp you have and what it should play.</p>
      )}
      {part === "retune" && (
        <p>Here the way from the harp you have to the layout you want will stand, reed by reed.</p>
      )}
      {part === "measure" && <p>Here every reed of a harp will be heard and measured, hole by hole.</p>}
    </WorkshopScreen>
  );
}
