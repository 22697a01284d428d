import { CAUTIONS } from "../ui/cautions.ts";
import type { Room } from "./room.ts";
import { useIsPlaying } from "./use-is-playing.ts";

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
