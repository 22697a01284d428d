import { useEffect, useSyncExternalStore } from "react";
import type { BroughtBack } from "./bringing-back.tsx";
import { LeftTakeNotice } from "./left-take-notice.tsx";
import { LostNotice, type LostServices } from "./lost-notice.tsx";
import { ReturnedNotice } from "./returned-notice.tsx";
import { isSheet, type Room } from "./room.ts";
import type { UnkeptAttempts } from "./unkept.ts";
import { UnkeptNotice } from "./unkept-notice.tsx";
import { useIsPlaying } from "./use-is-playing.ts";
import { type LeftTakeServices, useLeftTakes } from "./use-left-takes.ts";
import "./takes-aside.css";

interface TakesAsideProps {
  readonly services: LeftTakeServices &
    LostServices & { readonly unkept: UnkeptAttempts; readonly returned: BroughtBack };
  /** Counts on whenever the history changes. */
  readonly version: number;
  readonly room: Room;
  /** Why nothing could be read when the window was opened, as a sentence; null where it could. */
  readonly atStart: string | null;
  /** Opens an attempt on the sheet. */
  readonly onOpen: (id: string) => void;
  /** Everything can be read after all. */
  readonly onBeginAgain: (told: string) => Promise<void>;
}

/** What was nearly lost: attempts that are not kept, and a take that was cut off. Nothing of it while one plays. */
export function TakesAside({ services, version, room, atStart, onOpen, onBeginAgain }: TakesAsideProps) {
  const { unkept } = services;
  const isPlaying = useIsPlaying(room);
  const state = useSyncExternalStore(unkept.subscribe, unkept.getState);
  const left = useLeftTakes(services, room.kind, onOpen);
  useLeaveGuard(state.attempts > 0 && state.savedAs === null);
  const tryAgain = async () => {
    if ((await unkept.tryAgain()) && atStart !== null) await onBeginAgain("Your history is open again.");
  };
  if (isPlaying) return null;
  return (
    <div className="takes-aside">
      <ReturnedNotice returned={services.returned} />
      <LostNotice services={services} version={version} />
      <UnkeptNotice
        atStart={atStart}
        state={state}
        onTryAgain={() => void tryAgain()}
        onSaveToFile={() => void unkept.saveToFile()}
      />
      {left.state !== null && !isSheet(room) && <LeftTakeNotice {...left} state={left.state} />}
    </div>
  );
}

/** A browser asks before it closes a window with something in it that is nowhere else; the shell would not close at all. */
function useLeaveGuard(isNeeded: boolean): void {
  useEffect(() => {
    if (!isNeeded || window.reedpath !== undefined) return;
    const guard = (event: BeforeUnloadEvent) => event.preventDefault();
    window.addEventListener("beforeunload", guard);
    return () => window.removeEventListener("beforeunload", guard);
  }, [isNeeded]);
}
