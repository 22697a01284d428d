import { changeTempo } from "../../core/exercise/change-tempo.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import type { HandsFree } from "../practice/hands-free.tsx";
import { PracticeScreen } from "../practice/practice-screen.tsx";
import type { PracticeSession } from "../practice/practice-session.ts";
import type { RecordingsShelf } from "../practice/recordings-marker.ts";
import { RecordingsScreen } from "../practice/recordings-screen.tsx";
import type { HowToPlay } from "./how-to-play.ts";
import type { Room } from "./room.ts";
import { useRecordings } from "./use-recordings.ts";

interface PracticeRoomProps {
  readonly room: Extract<Room, { kind: "practice" }>;
  readonly onPractise: (exercise: Exercise, held?: string | null, how?: Partial<HowToPlay>) => void;
  /** Told of a tempo the player has set for a drill. */
  readonly onDrillTempo: (bpm: number) => void;
  readonly handsFree: HandsFree;
  readonly onHow: (how: Partial<HowToPlay>) => void;
  /** The phrase beside the one practised; null where there is none. */
  readonly phraseBeside: (exercise: Exercise, step: 1 | -1) => Promise<Exercise | null>;
  /** Recordings that were marked, by what they were marked against. */
  readonly shelf: RecordingsShelf;
  readonly onLeave: (exercise: Exercise) => void;
}

/** The sheet, and what it leads to: the same at another tempo or in another way, and the drill for a fault. */
export function PracticeRoom(props: PracticeRoomProps) {
  const { room, onPractise, onDrillTempo, handsFree, onHow, onLeave } = props;
  const { session, held } = room;
  const { exercise, way } = session;
  const recordings = useRecordings(session, props.shelf);
  const hasPhrases = exercise.kind === "tune" && exercise.parameters.rung !== "";
  const toPhrase = async (step: 1 | -1) => {
    const beside = await props.phraseBeside(exercise, step);
    if (beside !== null) onPractise(beside, null, { way });
    else onPractise(exercise, step > 0 ? "This is the last one." : "This is the first one.", { way });
  };
  if (recordings.seen === "table") {
    const { marker, open, showSheet } = recordings;
    return <RecordingsScreen exercise={exercise} marker={marker} onOpen={open} onLeave={showSheet} />;
  }
  return (
    <>
      {held !== null && (
        <p className="notice" role="status">
          {held}
        </p>
      )}
      {recordings.trouble !== null && (
        <p className="notice" role="alert">
          {recordings.trouble}
        </p>
      )}
      <PracticeScreen
        key={sessionKey(session)}
        session={session}
        onTempo={(step) => {
          const { exercise: changed, held: limit } = changeTempo(exercise, step);
          if (changed.kind !== "tune") onDrillTempo(changed.tempo.bpm);
          onPractise(changed, limit, { way });
        }}
        onWay={(next) => {
          onHow({ way: next });
          onPractise(exercise, null, { way: next });
        }}
        handsFree={handsFree}
        onHandsFree={(next) => {
          onHow(next);
          onPractise(exercise, null, { way, ...next });
        }}
        onPhrase={hasPhrases ? (step) => void toPhrase(step) : null}
        onDrill={(drill) => {
          const made = makeDrill(drill);
          if (made.kind === "exercise") onPractise(made.exercise);
        }}
        recordings={{
          onRecordings: recordings.onRecordings,
          inTable: recordings.inTable,
          onTable: recordings.showTable,
        }}
        onLeave={recordings.seen === "row" ? recordings.showTable : () => onLeave(exercise)}
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
