import { type ReactNode, useEffect } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { HistoryScreen } from "../history/history-screen.tsx";
import { CalendarPart } from "../progress/calendar-part.tsx";
import type { TrendsAsk, WeakSpotsAsk } from "../progress/progress-view.ts";
import { TrendsPart } from "../progress/trends-part.tsx";
import { WeakSpotsPart } from "../progress/weak-spots-part.tsx";
import type { AttemptFilter } from "../store/history-store.ts";
import type { ProgressWork } from "./progress-work.ts";
import type { useHistory } from "./use-history.ts";
import { useProgress } from "./use-progress.ts";

/** What is looked at in this room; it outlasts a visit. */
export interface ProgressView {
  readonly part: Part;
  readonly trends: TrendsAsk;
  readonly weakSpots: WeakSpotsAsk;
}

type Part = "trends" | "weak spots" | "calendar" | "attempts";
const PARTS: readonly (readonly [Part, string])[] = [
  ["trends", "Trends"],
  ["weak spots", "Weak spots"],
  ["calendar", "Calendar"],
  ["attempts", "Attempts"],
];

/** What was practised most in the last weeks. */
export const FIRST_PROGRESS_VIEW: ProgressView = {
  part: "trends",
  trends: { weeks: 8, kind: "group", order: "most practised", scope: null },
  weakSpots: { weeks: 8, harp: null },
};

interface ProgressRoomProps {
  readonly view: ProgressView;
  readonly onView: (view: ProgressView) => void;
  readonly work: ProgressWork;
  readonly history: ReturnType<typeof useHistory>;
  readonly onOpen: (id: string) => void;
  /** Ways to save the attempts that fit a filter. */
  readonly tables: (filter: AttemptFilter) => ReactNode;
  readonly onPractise: (exercise: Exercise) => void;
}

/** What changed, what costs most, how much was practised, and every attempt. */
export function ProgressRoom(props: ProgressRoomProps) {
  const { view, onView, history } = props;
  const { forget } = history;
  useEffect(() => forget, [forget]);
  return (
    <>
      <p className="row parts-of-room">
        {PARTS.map(([one, words]) => (
          <button
            key={one}
            type="button"
            aria-current={one === view.part ? "page" : undefined}
            onClick={() => onView({ ...view, part: one })}
          >
            {words}
          </button>
        ))}
      </p>
      <Part {...props} />
    </>
  );
}

function Part(props: ProgressRoomProps) {
  const { view, history, onOpen, tables } = props;
  switch (view.part) {
    case "trends":
      return <Trends {...props} />;
    case "weak spots":
      return <WeakSpots {...props} />;
    case "calendar":
      return <Calendar {...props} />;
    case "attempts":
      return (
        <HistoryScreen
          history={history.read}
          search={history.search}
          version={history.version}
          deleted={history.deleted}
          onOpen={onOpen}
          onStar={history.star}
          onDelete={history.remove}
          onUndo={history.undo}
          withFound={tables}
        />
      );
  }
}

function Trends({ view, onView, work, history }: ProgressRoomProps) {
  const { read, stop, again } = useProgress(work, "trends", view.trends, history.version);
  const onAsk = (trends: TrendsAsk) => onView({ ...view, trends });
  return <TrendsPart ask={view.trends} read={read} onAsk={onAsk} onStop={stop} onAgain={again} />;
}

function WeakSpots({ view, onView, work, history, onPractise }: ProgressRoomProps) {
  const { read, stop, again } = useProgress(work, "weak spots", view.weakSpots, history.version);
  const onAsk = (weakSpots: WeakSpotsAsk) => onView({ ...view, weakSpots });
  return (
    <WeakSpotsPart
      ask={view.weakSpots}
      read={read}
      onAsk={onAsk}
      onStop={stop}
      onAgain={again}
      onPractise={onPractise}
    />
  );
}

function Calendar({ work, history }: ProgressRoomProps) {
  const { read, stop, again } = useProgress(work, "minutes", null, history.version);
  return <CalendarPart read={read} onStop={stop} onAgain={again} />;
}
