import { useEffect, useState } from "react";
import { asksForChords, type Exercise } from "../../core/exercise/exercise.ts";
import type { Listening } from "../../core/listen/listening.ts";
import { LOUD_SECOND_REED_DB } from "../../core/score/second-reed.ts";
import { playInWords } from "../ui/breath-words.ts";
import { Key } from "../ui/use-verbs.tsx";
import type { PracticeSession } from "./practice-session.ts";
import type { Keeping, PracticeState } from "./practice-state.ts";

interface StateLineProps {
  readonly exercise: Exercise;
  readonly session: PracticeSession;
  readonly state: PracticeState;
}

/** What is going on, in words: the beat, the microphone, what becomes of the take. */
export function StateLine({ exercise, session, state }: StateLineProps) {
  return (
    <div className="state-line" role="status">
      {stateWords(exercise, session, state)}
    </div>
  );
}

function stateWords(exercise: Exercise, session: PracticeSession, state: PracticeState) {
  switch (state.kind) {
    case "ready":
      return (
        <span className={state.awaitsNote ? "" : "soft"}>
          {state.awaitsNote && "Hold any note to begin. "}
          {session.isListening() ? "The microphone is open." : "The microphone is closed."}
        </span>
      );
    case "opening":
      return <span>Opening the microphone …</span>;
    case "hearing":
      return (
        <span>
          {state.thenPlay ? "Listen: then it is your turn." : "The exercise as it should sound."}
          {session.isListening() && " The microphone is open."}
        </span>
      );
    case "playing":
      return <PlayingWords exercise={exercise} session={session} state={state} />;
    case "broken off":
      return (
        <span>
          {state.wholeNotes === null
            ? "The microphone is closed. Looking at what was recorded …"
            : "The microphone is closed."}
        </span>
      );
    case "working":
      return <WorkingWords what={state.what} share={state.share} />;
    case "marked":
      return (
        <>
          <KeepingWords keeping={state.keeping} />
          <MissingWords listening={state.listening} />
          {state.againInSeconds !== null && (
            <span>
              {state.afterWords ?? "Again"} in {state.againInSeconds} s; <Key verb="start" /> to stay.
            </span>
          )}
          {state.againInSeconds === null && state.afterWords !== null && <span>{state.afterWords}</span>}
          {state.source === "microphone" && session.isDelayUnknown() && (
            <span className="soft">
              Delay of this set-up not measured: <Key verb="sound check" /> Sound check.
            </span>
          )}
          {session.isListening() && <span className="soft">The microphone is open.</span>}
        </>
      );
  }
}

interface PlayingProps {
  readonly exercise: Exercise;
  readonly session: PracticeSession;
  readonly state: Extract<PracticeState, { kind: "playing" }>;
}

function PlayingWords({ exercise, session, state }: PlayingProps) {
  const level = useLevelWords(session, asksForChords(exercise));
  return (
    <>
      {state.beat === null ? (
        <span>
          {state.noteIndex === null ? "Begin when you like; " : "Playing; "}
          <Key verb="start" /> ends the take.
        </span>
      ) : (
        <BeatWords exercise={exercise} beat={state.beat} />
      )}
      {level !== null && <span>{level}</span>}
      <span className="soft">The microphone is open.</span>
      {state.hearsBeat && (
        <span className="notice">
          The microphone hears the beat: use headphones, or let the beat be only seen.
        </span>
      )}
      {session.missingMicrophone() !== null && (
        <span className="notice">
          {session.missingMicrophone()} is not there: another microphone hears you.
        </span>
      )}
      {state.refused.length > 0 && (
        <span className="notice">
          The system will not turn off {state.refused.join(" and ")}: marks may suffer.
        </span>
      )}
    </>
  );
}

function BeatWords({ exercise, beat }: { readonly exercise: Exercise; readonly beat: number }) {
  const counting = beat < 0;
  const first = exercise.notes[0];
  return (
    <>
      <span className="beat-number">
        {counting ? exercise.countInBeats + beat + 1 : (beat % exercise.beatsPerBar) + 1}
      </span>
      <span>
        {counting
          ? `count-in, then ${first === undefined || exercise.targetAs !== undefined ? "listen or look" : playInWords(first)}`
          : "playing"}
      </span>
    </>
  );
}

/** Quieter than this while a reed should sound is too quiet to mark well. */
const TOO_QUIET_DBFS = -50;

/** "clipping", "two holes at once", "too quiet" or "no sound at all" as the microphone hears it; null while all is well. */
function useLevelWords(session: PracticeSession, chords: boolean): string | null {
  const [words, setWords] = useState<string | null>(null);
  useEffect(
    () =>
      session.onReading((reading, sinceBeatZero) => {
        if (reading.silent)
          setWords("no sound at all from the microphone: is it allowed in the system's settings?");
        else if (reading.clipped) setWords("clipping: further from the microphone");
        else if (!chords && reading.secondReedDb !== null && reading.secondReedDb >= LOUD_SECOND_REED_DB)
          setWords("two holes at once");
        else if (sinceBeatZero > 0.5 && reading.levelDbfs < TOO_QUIET_DBFS) setWords("too quiet");
        else setWords(null);
      }),
    [session, chords],
  );
  return words;
}

function WorkingWords({ what, share }: { readonly what: string; readonly share: number | null }) {
  return (
    <>
      <span>{what} …</span>
      <progress aria-label={what} {...(share === null ? {} : { value: share })} max={1} />
    </>
  );
}

/** Of a take in which sound is missing. */
function MissingWords({ listening }: { readonly listening: Listening | null }) {
  const missing = listening?.holes?.reduce((sum, hole) => sum + hole.toSeconds - hole.fromSeconds, 0) ?? 0;
  if (missing === 0) return null;
  return (
    <span className="notice">
      {missing.toFixed(missing < 1 ? 2 : 1)} s of the sound never arrived: what lies there is not measured.
    </span>
  );
}

function KeepingWords({ keeping }: { readonly keeping: Keeping }) {
  switch (keeping.kind) {
    case "keeping":
      return <span>Keeping it in the history …</span>;
    case "kept":
      return <span>Kept in the history.</span>;
    case "offered":
      return <span>Not in your history: it may be another player's.</span>;
    case "not kept":
      return <span className="notice">Not in the history: {keeping.why}.</span>;
  }
}
