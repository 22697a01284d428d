import { useEffect, useMemo, useState } from "react";
import { asksForChords, type Exercise } from "../../core/exercise/exercise.ts";
import { type Attempt, USUAL_TOLERANCES } from "../../core/score/attempt.ts";
import { useDisplay } from "../ui/display.ts";
import { SheetLine } from "../ui/sheet-line.tsx";
import { prepareStaff } from "../ui/staff-drawings.ts";
import { useWidth } from "../ui/use-width.ts";
import { CalledNote } from "./called-note.tsx";
import { EchoView, isHidden } from "./echo-view.tsx";
import { LiveTrace, placeReading } from "./live-trace.ts";
import { PitchStrip } from "./pitch-strip.tsx";
import type { PracticeSession } from "./practice-session.ts";
import type { PracticeState } from "./practice-state.ts";
import { barOf, linesInSight, sheetLines } from "./sheet-shape.ts";

interface SheetProps {
  readonly exercise: Exercise;
  readonly session: PracticeSession;
  readonly state: PracticeState;
}

/** The music, what was heard in place under it, and the harp with the next action. */
export function Sheet({ exercise, session, state }: SheetProps) {
  const trace = useTrace(exercise, session, state.kind);
  if (exercise.targetAs !== undefined && state.kind !== "marked") {
    return <CalledNote exercise={exercise} state={state} />;
  }
  if (isHidden(session.way, state)) return <EchoView exercise={exercise} state={state} />;
  // A pitch to be found by ear is not shown before the take is over.
  // Of several reeds at once there is no one pitch to draw.
  const hidden = asksForChords(exercise) || (exercise.targetShown === false && state.kind !== "marked");
  const now = nowOf(state);
  const attempt = state.kind === "marked" ? state.attempt : null;
  return (
    <SheetMusic
      exercise={exercise}
      now={now}
      reading={readingIndex(state)}
      trace={hidden ? EMPTY_TRACE : trace}
      attempt={attempt}
    />
  );
}

const EMPTY_TRACE = new LiveTrace();

interface SheetMusicProps {
  readonly exercise: Exercise;
  readonly now: number | null;
  /** Index of the note whose bar is to be read, or null. */
  readonly reading: number | null;
  readonly trace: LiveTrace;
  readonly attempt: Attempt | null;
}

/** Staff, tab and pitch strip, line by line. */
export function SheetMusic({ exercise, now, reading, trace, attempt }: SheetMusicProps) {
  const [box, width] = useWidth<HTMLDivElement>(1100);
  const { textScale } = useDisplay();
  const lines = useMemo(() => sheetLines(exercise, textScale), [exercise, textScale]);
  useEffect(
    () =>
      prepareStaff(
        lines.map(({ abc }) => abc),
        { width, textScale },
      ),
    [lines, width, textScale],
  );
  const { inTuneCents } = attempt?.tolerances ?? USUAL_TOLERANCES;
  return (
    <div ref={box}>
      {(reading === null ? lines : linesInSight(lines, reading, textScale)).map((line) => (
        <SheetLine
          key={`${line.from} ${line.to}`}
          exercise={exercise}
          line={line}
          width={width}
          now={now}
          large={reading === null ? null : barOf(exercise, reading)}
          below={(notes, spans) => (
            <PitchStrip
              notes={notes}
              spans={spans}
              width={width}
              inTuneCents={inTuneCents}
              trace={trace}
              attempt={attempt}
            />
          )}
        />
      ))}
    </div>
  );
}

function nowOf(state: PracticeState): number | null {
  return state.kind === "playing" || state.kind === "hearing" ? state.noteIndex : null;
}

/** Before and while playing one bar is to be read; afterwards all are alike. */
function readingIndex(state: PracticeState): number | null {
  return state.kind === "marked" ? null : (nowOf(state) ?? 0);
}

/** The live trace of the take being played; it stays on the sheet until the next one begins. */
function useTrace(exercise: Exercise, session: PracticeSession, moment: PracticeState["kind"]): LiveTrace {
  const [trace] = useState(() => new LiveTrace());
  useEffect(() => {
    if (moment === "opening" || moment === "ready" || moment === "hearing") trace.clear();
  }, [moment, trace]);
  useEffect(
    () =>
      session.onReading((reading, sinceBeatZero) => {
        const point = placeReading(exercise, reading, sinceBeatZero);
        if (point !== null) trace.add(point);
      }),
    [exercise, session, trace],
  );
  return trace;
}
