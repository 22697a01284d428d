import type { Settings } from "../store/settings-store.ts";
import type { WorkshopPart } from "../workshop/workshop-parts.ts";
import { WorkshopScreen } from "../workshop/workshop-screen.tsx";
import { RetuneRoom } from "./retune-room.tsx";
import type { Services } from "./services.ts";
import type { useHarps } from "./use-harps.ts";

interface WorkshopRoomProps {
  readonly part: WorkshopPart;
  readonly services: Services;
  readonly harps: ReturnType<typeof useHarps>;
  readonly onPart: (part: WorkshopPart) => void;
  readonly settings: Settings;
  readonly onSettings: (part: Partial<Settings>) => void;
}

const REED_WORK = "Reed work";

/** What comes before practice: which layout, how to get there, and how the reeds are tuned. */
export function WorkshopRoom({ part, services, harps, onPart, settings, onSettings }: WorkshopRoomProps) {
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
        <RetuneRoom services={services} harps={harps} settings={settings} onSettings={onSettings} />
      )}
      {part === "measure" && <p>Here every reed of a harp will be heard and measured, hole by hole.</p>}
    </WorkshopScreen>
  );
}
