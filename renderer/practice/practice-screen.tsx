import { useEffect, useRef, useSyncExternalStore } from "react";
import type { DrillSpec } from "../../core/exercise/drill-spec.ts";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { positionName } from "../../core/instrument/positions.ts";
import type { Way } from "../../core/score/attempt.ts";
import { verdictSentence } from "../../core/score/verdict-sentence.ts";
import { tempoSign } from "../../core/tune/tempo.ts";
import { troubleWords, wayOn } from "../audio/sound-trouble.ts";
import { Key, useVerbs } from "../ui/use-verbs.tsx";
import { useWriting } from "../ui/writing.ts";
import { isHidden } from "./echo-view.tsx";
import { type HandsFree, HandsFreeChoice, handsFreeWords } from "./hands-free.tsx";
import { MarkAgain, MarkedAgainLine } from "./mark-again.tsx";
import { MarksReport } from "./marks-report.tsx";
import { Measures } from "./measures.tsx";
import { NextAction } from "./next-action.tsx";
import { NoTake } from "./no-take.tsx";
import type { PracticeSession } from "./practice-session.ts";
import { isBusy, type PracticeState } from "./practice-state.ts";
import { MarkedRecordingWays, RecordingFiles, type RecordingsProps, useDrop } from "./recording-ways.tsx";
import { Sheet } from "./sheet.tsx";
import { StateLine } from "./state-line.tsx";
import { TakeFiles } from "./take-files.tsx";
import { TakeReport } from "./take-report.tsx";
import { useMarking } from "./use-marking.ts";
import { useRehearsedMarking } from "./use-rehearsed-marking.ts";
import { WayChoice } from "./way-choice.tsx";
import "./practice.css";

interface PracticeScreenProps {
  readonly session: PracticeSession;
  /** Slower or faster by so many beats a minute. */
  readonly onTempo: (step: number) => void;
  readonly onWay: (way: Way) => void;
  readonly handsFree: HandsFree;
  readonly onHandsFree: (handsFree: HandsFree) => void;
  /** Goes to the phrase after or before; null where there are no phrases. */
  readonly onPhrase: ((step: 1 | -1) => void) | null;
  /** Opens the drill for something that went wrong. */
  readonly onDrill: (drill: DrillSpec) => void;
  readonly recordings: RecordingsProps;
  readonly onLeave: () => void;
}

const TEMPO_STEP = 5;

/** One sheet, three moments: before, during and after playing, always laid out alike. */
export function PracticeScreen(props: PracticeScreenProps) {
  const { session, onDrill } = props;
  const marking = useMarking(session, useSyncExternalStore(session.subscribe, session.getState));
  const { exercise, state } = marking;
  const drop = useDrop(props.recordings.onRecordings);
  usePracticeVerbs(props, state);
  useEffect(() => void session.awaitNote(), [session]);
  useRehearsedMarking(session.services.marking, exercise, !isBusy(state));
  return (
    <main
      className={drop.over ? "practice drop-here" : "practice"}
      {...drop.handlers}
      // Whoever touches the screen has a hand free: the marks stay.
      onPointerDown={() => session.stay()}
    >
      <Where exercise={exercise} />
      <WhatNow {...props} exercise={exercise} state={state} />
      {state.kind === "marked" && <MarkedAgainLine marking={marking} />}
      <Sheet exercise={exercise} session={session} state={state} />
      <div className={isBusy(state) ? "foot in-sight" : "foot"}>
        <NextAction exercise={exercise} state={state} hidden={isHidden(session.way, state)} />
        <StateLine exercise={exercise} session={session} state={state} />
      </div>
      {state.kind === "ready" && exercise.caution !== undefined && (
        <p className="caution">{exercise.caution}</p>
      )}
      {state.kind === "marked" && (
        <MarksReport
          exercise={exercise}
          attempt={state.attempt}
          onHearFrom={state.take === null ? null : (at) => session.hearTake(at)}
          onDrill={onDrill}
        />
      )}
      {state.kind === "marked" && state.take === null && (
        <>
          <NoTake />
          <TakeFiles exercise={exercise} attempt={state.attempt} take={null} />
        </>
      )}
      {state.kind === "marked" && state.take !== null && (
        <>
          <TakeReport
            session={session}
            exercise={exercise}
            attempt={state.attempt}
            take={state.take}
            listening={state.listening}
          />
          <MarkAgain marking={marking} exercise={exercise} attempt={state.attempt} />
        </>
      )}
    </main>
  );
}

function Where({ exercise }: { readonly exercise: Exercise }) {
  const { say } = useWriting();
  return (
    <div className="where">
      <h1>{say(exercise.title)}</h1>
      <span>
        {say(harpName(exercise.harp))} · {positionName(exercise.position)} position ·{" "}
        {tempoSign(exercise.tempo)}
      </span>
    </div>
  );
}

interface PartProps {
  readonly exercise: Exercise;
  readonly session: PracticeSession;
  readonly state: PracticeState;
}

/** What this trains before playing, the sentence to take away after it, and the ways on. */
function WhatNow(props: PracticeScreenProps & PartProps) {
  const { exercise, session, state, onWay, onPhrase } = props;
  const { say } = useWriting();
  const main = useRef<HTMLButtonElement>(null);
  // The same place holds the main button in every moment; it keeps the focus when its word changes.
  useEffect(() => main.current?.focus(), []);
  const busy = isBusy(state);
  return (
    <div>
      <p className="one-sentence" aria-live="polite">
        {say(sentence(exercise, state))}
      </p>
      <Measures attempt={state.kind === "marked" ? state.attempt : null} />
      <div className="what-now">
        <button ref={main} type="button" className="main" onClick={() => void session.startOrStop()}>
          {busy ? "Stop" : state.kind === "marked" ? "Again" : "Start"} <Key verb="start" />
        </button>
        <button type="button" disabled={busy} onClick={() => void session.hear()}>
          Hear it <Key verb="hear" />
        </button>
        {hasWhole(state) && (
          <button type="button" onClick={() => void session.markWhole()}>
            Mark what was played <Key verb="mark what was played" />
          </button>
        )}
        {state.kind === "marked" && state.take !== null && (
          <HearTakeButton session={session} hearing={state.hearingSeconds !== null} />
        )}
        <MarkedRecordingWays {...props.recordings} session={session} state={state} disabled={busy} />
        <WayChoice exercise={exercise} way={session.way} disabled={busy} onWay={onWay} />
        {onPhrase !== null && <PhraseButtons disabled={busy} onPhrase={onPhrase} />}
        <MoreWays {...props} disabled={busy} />
      </div>
    </div>
  );
}

/** What is needed less often than every few minutes, out of sight until asked for. */
function MoreWays(props: PracticeScreenProps & { readonly disabled: boolean }) {
  const { session, handsFree, onHandsFree, recordings, disabled } = props;
  const words = handsFreeWords(handsFree);
  return (
    <details className="more-ways">
      <summary>More{words === "" ? "" : `: ${words}`}</summary>
      <div className="what-now">
        <button type="button" disabled={disabled} onClick={() => void session.simulate()}>
          Show a simulated player <Key verb="show marks" />
        </button>
        <RecordingFiles onRecordings={recordings.onRecordings} disabled={disabled} />
      </div>
      <HandsFreeChoice value={handsFree} disabled={disabled} onChange={onHandsFree} />
    </details>
  );
}

function PhraseButtons({
  disabled,
  onPhrase,
}: {
  readonly disabled: boolean;
  readonly onPhrase: (step: 1 | -1) => void;
}) {
  return (
    <>
      <button type="button" disabled={disabled} onClick={() => onPhrase(-1)}>
        Phrase before <Key verb="phrase before" />
      </button>
      <button type="button" disabled={disabled} onClick={() => onPhrase(1)}>
        Next phrase <Key verb="next phrase" />
      </button>
    </>
  );
}

function HearTakeButton({
  session,
  hearing,
}: {
  readonly session: PracticeSession;
  readonly hearing: boolean;
}) {
  return (
    <button type="button" onClick={() => (hearing ? session.hushTake() : session.hearTake(0))}>
      {hearing ? "Hush" : "Hear the take"} <Key verb="hear the take" />
    </button>
  );
}

function sentence(exercise: Exercise, state: PracticeState): string {
  if (state.kind === "marked") {
    const whose = state.source === "simulated" ? "Simulated player, not you. " : "";
    return whose + verdictSentence(state.attempt);
  }
  if (state.kind === "ready" && state.trouble !== null) return state.trouble;
  if (state.kind === "broken off") return brokenOffSentence(state);
  return exercise.trains;
}

/** Whether something of a take that broke off can be marked. */
const hasWhole = (state: PracticeState) => state.kind === "broken off" && (state.wholeNotes ?? 0) > 0;

function brokenOffSentence({ trouble, wholeNotes }: Extract<PracticeState, { kind: "broken off" }>): string {
  const marked =
    wholeNotes === null || wholeNotes === 0
      ? ""
      : `, or have the ${wholeNotes === 1 ? "note" : `${wholeNotes} notes`} before that marked`;
  return `${troubleWords(trouble)} ${wayOn(trouble)}${marked}.`;
}

/** The player's keys on the sheet; while something is under way only stopping it is left. */
function usePracticeVerbs(
  { session, onTempo, onPhrase, onLeave }: PracticeScreenProps,
  state: PracticeState,
): void {
  const idle = !isBusy(state);
  const hearTake =
    state.kind !== "marked" || state.take === null
      ? null
      : () => (state.hearingSeconds === null ? session.hearTake(0) : session.hushTake());
  useVerbs({
    start: () => void session.startOrStop(),
    hear: () => void session.hear(),
    "show marks": () => void session.simulate(),
    "hear the take": hearTake,
    "mark what was played": hasWhole(state) ? () => void session.markWhole() : null,
    faster: idle ? () => onTempo(TEMPO_STEP) : null,
    slower: idle ? () => onTempo(-TEMPO_STEP) : null,
    "next phrase": idle && onPhrase !== null ? () => onPhrase(1) : null,
    "phrase before": idle && onPhrase !== null ? () => onPhrase(-1) : null,
    leave: idle ? onLeave : () => session.stop(),
  });
}
