import { useEffect, useMemo, useState, useSyncExternalStore } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Listening } from "../../core/listen/listening.ts";
import { spellingOf } from "../../core/pitch/modes.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { useWriting } from "../ui/writing.ts";
import { FIRST_HEAR_CHOICE, type HearChoice, HearChoices } from "./hear-choices.tsx";
import { factsOf, whichNote } from "./note-facts.ts";
import { barAround, type NoteRange, type PlacedNote, placeNotes, secondsOf } from "./placed-notes.ts";
import type { PracticeSession } from "./practice-session.ts";
import type { HeardTake } from "./practice-state.ts";
import { TakeFiles } from "./take-files.tsx";
import type { HearPlan, HearWhat } from "./take-hearing.ts";
import { Trace, type TraceChoice } from "./trace.tsx";
import { traceLines } from "./trace-lines.ts";
import { useListening } from "./use-listening.ts";
import "./trace.css";

interface TakeReportProps {
  readonly session: PracticeSession;
  /** Tuned as it was marked. */
  readonly exercise: Exercise;
  readonly attempt: Attempt;
  readonly take: HeardTake;
  readonly listening: Listening | null;
}

/** The trace of a marked take, to be walked through and heard from any note, and the take and its marks as files. */
export function TakeReport({ session, exercise, attempt, take, listening }: TakeReportProps) {
  const state = useSyncExternalStore(session.subscribe, session.getState);
  const isKept = state.kind === "marked" && state.keeping.kind === "kept";
  const { listenInWorker } = session.services;
  const heard = useListening(listenInWorker, exercise, take, listening);
  return (
    <section className="report" aria-label="Take">
      {heard.kind === "listening" && (
        <p className="row" role="status">
          Listening to the take for its trace …
          <progress aria-label="Listening to the take" value={heard.share} max={1} />
        </p>
      )}
      {heard.kind === "failed" && (
        <p className="notice" role="alert">
          The trace cannot be drawn: {heard.words}.
        </p>
      )}
      {heard.kind === "heard" && (
        <WalkedTrace
          session={session}
          exercise={exercise}
          attempt={attempt}
          take={take}
          listening={heard.listening}
        />
      )}
      <TakeFiles
        exercise={exercise}
        attempt={attempt}
        take={take}
        onDelete={isKept ? () => session.dropTake() : null}
      />
    </section>
  );
}

const FIRST: TraceChoice = { selected: 0, range: null };

function WalkedTrace({
  session,
  exercise,
  attempt,
  take,
  listening,
}: TakeReportProps & { readonly listening: Listening }) {
  const placed = useMemo(() => placeNotes(exercise, attempt), [exercise, attempt]);
  const lines = useMemo(() => traceLines(exercise, listening, placed), [exercise, listening, placed]);
  const spelling = useMemo(() => spellingOf(exercise.home, exercise.mode), [exercise]);
  const [choice, setChoice] = useState(FIRST);
  const [how, setHow] = useState<HearChoice>(FIRST_HEAR_CHOICE);
  const { hearing } = session;
  const writing = useWriting();
  // What sounds belongs to these marks.
  // biome-ignore lint/correctness/useExhaustiveDependencies: other marks, another reference
  useEffect(() => () => hearing.stop(), [hearing, attempt]);
  const chosen = placed[choice.selected];
  if (chosen === undefined) return null;
  const facts = [whichNote(chosen, placed.length, writing), factsOf(chosen, spelling, writing)] as const;
  const hear = (what: HearWhat, next: HearChoice = how) => {
    session.stay();
    setHow({ ...next, what });
    hearing.start(exercise, take, planOf(placed, choice, { ...next, what }));
  };
  const choose = (next: TraceChoice) => {
    session.stay();
    setChoice(next);
    if (next.range !== null) setHow({ ...how, howFar: "a span" });
    else if (how.howFar === "a span") setHow({ ...how, howFar: "to the end" });
  };
  return (
    <>
      <Trace
        placed={placed}
        lines={lines}
        attempt={attempt}
        hearing={hearing}
        choice={choice}
        onChoice={choose}
        words={facts.join(" · ")}
        onHear={() => hear(how.what)}
      />
      <p className="note-facts">
        {facts[0]}
        <br />
        {facts[1]}
      </p>
      <HearChoices
        choice={how}
        onChoice={(next) => {
          setHow(next);
          // What sounds goes on as it is now wanted.
          if (hearing.getState().kind !== "silent") hear(next.what, next);
        }}
        span={spanOf(choice)}
        onSpan={(range) => setChoice({ selected: range.from, range })}
        count={placed.length}
        hearing={hearing}
        onHear={hear}
      />
    </>
  );
}

const spanOf = ({ selected, range }: TraceChoice): NoteRange => range ?? { from: selected, to: selected };

/** The way into a note is heard too where the take goes on to its end. */
function planOf(placed: readonly PlacedNote[], choice: TraceChoice, how: HearChoice): HearPlan {
  const { what, again, speed, howFar } = how;
  const last = placed.length - 1;
  const range: NoteRange =
    howFar === "to the end"
      ? { from: choice.selected, to: last }
      : howFar === "this note"
        ? { from: choice.selected, to: choice.selected }
        : howFar === "this bar"
          ? barAround(placed, choice.selected)
          : spanOf(choice);
  const { fromSeconds, toSeconds } = secondsOf(placed, range);
  return {
    what,
    again,
    speed,
    fromIndex: range.from,
    toIndex: range.to,
    fromSeconds,
    toSeconds: howFar === "to the end" ? null : toSeconds,
  };
}
