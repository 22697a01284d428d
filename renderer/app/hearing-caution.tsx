import { useSyncExternalStore } from "react";
import { isBusy } from "../practice/practice-state.ts";
import { CAUTIONS } from "../ui/cautions.ts";
import type { Room } from "./room.ts";

const HEARING = CAUTIONS.find(({ risk }) => risk === "Hearing");

interface HearingCautionProps {
  readonly room: Room;
  readonly onRead: (risk: string) => void;
}

/** Once there was a sound: what to mind of loudness, until it is read. Never while one plays. */
export function HearingCaution({ room, onRead }: HearingCautionProps) {
  const isPlaying = useIsPlaying(room);
  if (HEARING === undefined || isPlaying) return null;
  const { risk, words } = HEARING;
  return (
    <aside className="caution" aria-label={risk}>
      <strong>{risk}.</strong> {words}{" "}
      <button type="button" onClick={() => onRead(risk)}>
        I have read it
      </button>
    </aside>
  );
}

const never = () => () => {};

function useIsPlaying(room: Room): boolean {
  const session = room.kind === "practice" ? room.session : null;
  return useSyncExternalStore(
    session?.subscribe ?? never,
    () => session !== null && isBusy(session.getState()),
  );
}
