import { changeTempo } from "../../core/exercise/change-tempo.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import type { Way } from "../../core/score/attempt.ts";
import { PracticeScreen } from "../practice/practice-screen.tsx";
import type { PracticeSession } from "../practice/practice-session.ts";
import type { Room } from "./room.ts";

interface PracticeRoomProps {
  readonly room: Extract<Room, { kind: "practice" }>;
  readonly onPractise: (exercise: Exercise, held?: string | null, way?: Way) => void;
  /** Told of a tempo the player has set for a drill. */
  readonly onDrillTempo: (bpm: number) => void;
  readonly onWay: (way: Way) => void;
  readonly onLeave: (exercise: Exercise) => void;
}

/** The sheet, and what it leads to: the same at another tempo or in another way, and the drill for a fault. */
export function PracticeRoom({ room, onPractise, onDrillTempo, onWay, onLeave }: PracticeRoomProps) {
  const { session, held } = room;
  return (
    <>
      {held !== null && (
        <p className="notice" role="status">
          {held}
        </p>
      )}
      <PracticeScreen
        key={sessionKey(session)}
        session={session}
        onTempo={(step) => {
          const { exercise, held: limit } = changeTempo(session.exercise, step);
          if (exercise.kind !== "tune") onDrillTempo(exercise.tempo.bpm);
          onPractise(exercise, limit);
        }}
        onWay={(way) => {
          onWay(way);
          onPractise(session.exercise, null, way);
        }}
        onDrill={(drill) => {
          const made = makeDrill(drill);
          if (made.kind === "exercise") onPractise(made.exercise);
        }}
        onLeave={() => onLeave(session.exercise)}
      />
    </>
  );
}

const sessionKeys = new WeakMap<PracticeSession, number>();
let sessionCount = 0;

/** A new session is a new sheet, with nothing left of the one before. */
function sessionKey(session: PracticeSession): number {
  const known = sessionKeys.get(session);
  if (known !== undefined) return known;
  sessionKeys.set(session, ++sessionCount);
  return sessionCount;
}
