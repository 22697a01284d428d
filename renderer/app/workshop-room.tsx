import type { WorkshopPart } from "../workshop/workshop-parts.ts";
import { WorkshopScreen } from "../workshop/workshop-screen.tsx";
import { DesignRoom, type DesignRoomProps } from "./design-room.tsx";
import { MeasureRoom } from "./measure-room.tsx";
import { RetuneRoom } from "./retune-room.tsx";
import type { Services } from "./services.ts";

interface WorkshopRoomProps extends Omit<DesignRoomProps, "services" | "onRetune"> {
  readonly part: WorkshopPart;
  readonly services: Services;
  readonly onPart: (part: WorkshopPart) => void;
  /** To where the player's harps are kept. */
  readonly onAddHarp: () => void;
}

const REED_WORK = "Reed work";

/** What comes before practice: which layout, how to get there, and how the reeds are tuned. */
export function WorkshopRoom(props: WorkshopRoomProps) {
  const { part, services, harps, onPart, onAddHarp, settings, onSettings } = props;
  const { cautionsRead } = settings;
  return (
    <WorkshopScreen
      part={part}
      onPart={onPart}
      cautionRead={cautionsRead.includes(REED_WORK)}
      onCautionRead={() => onSettings({ cautionsRead: [...cautionsRead, REED_WORK] })}
    >
      {part === "design" && <DesignRoom {...props} onRetune={() => onPart("retune")} />}
      {part === "retune" && (
        <RetuneRoom services={services} harps={harps} settings={settings} onSettings={onSettings} />
      )}
      {part === "measure" && <MeasureRoom services={services} harps={harps} onAddHarp={onAddHarp} />}
    </WorkshopScreen>
  );
}
