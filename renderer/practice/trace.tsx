import {
  type KeyboardEvent,
  type PointerEvent,
  useLayoutEffect,
  useRef,
  useState,
  useSyncExternalStore,
} from "react";
import type { Attempt } from "../../core/score/attempt.ts";
import { useDisplay } from "../ui/display.ts";
import { useWidth } from "../ui/use-width.ts";
import type { NoteRange, PlacedNote } from "./placed-notes.ts";
import type { TakeHearing } from "./take-hearing.ts";
import type { TraceLine } from "./trace-lines.ts";
import { TracePicture } from "./trace-picture.tsx";
import { BEAT_LINE, drawnSpan, firstZoom, TRACE_HEIGHT, yOfCents, zoomed } from "./trace-scale.ts";

export interface TraceChoice {
  readonly selected: number;
  /** Notes marked by the player, to be heard; null for none. */
  readonly range: NoteRange | null;
}

interface TraceProps {
  readonly placed: readonly PlacedNote[];
  readonly lines: readonly TraceLine[];
  readonly attempt: Attempt;
  readonly hearing: TakeHearing;
  readonly choice: TraceChoice;
  readonly onChoice: (choice: TraceChoice) => void;
  /** What the selected note's marks say, read aloud as one goes from note to note. */
  readonly words: string;
  /** Enter: hear from the selected note. */
  readonly onHear: () => void;
}

/** Room left of a note that was scrolled to. */
const BEFORE_PIXELS = 80;

/** The pitch over time against the targets, and where each note began against the beat: scrolled, zoomed, walked by keys. */
export function Trace(props: TraceProps) {
  const { placed, attempt, choice, onChoice, words, onHear, hearing } = props;
  const [perSecond, setPerSecond] = useState(() => firstZoom(placed));
  const { textScale } = useDisplay();
  const onScreen = perSecond * textScale;
  const [box, width] = useWidth<HTMLDivElement>(1000);
  const [scrollLeft, setScrollLeft] = useState(0);
  const { fromSeconds, toSeconds } = drawnSpan(scrollLeft, width, onScreen);
  // Notes may be asked for beyond the end of a take broken off.
  const length = Math.max(attempt.take.durationSeconds, placed.at(-1)?.untilSeconds ?? 0);
  const zoom = (step: 1 | -1) => setPerSecond((before) => zoomed(before, step, width / textScale / length));
  useShown(box, placed, choice.selected, onScreen);
  const choose = (index: number, extend: boolean) =>
    onChoice(chosen(choice, Math.max(0, Math.min(placed.length - 1, index)), extend));
  const onKey = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = keyAction(event, choice.selected, placed.length, { choose, zoom, onHear });
    if (act === null) return;
    event.preventDefault();
    act();
  };
  const onPointer = (event: PointerEvent<HTMLDivElement>) => {
    const { left, top } = event.currentTarget.getBoundingClientRect();
    const at = (event.clientX - left + event.currentTarget.scrollLeft) / onScreen;
    const index = placed.findLastIndex(({ atSeconds }) => atSeconds <= at);
    // Below the picture lies the scroll bar.
    if (event.clientY - top < textScale * TRACE_HEIGHT) choose(index, event.shiftKey);
  };
  return (
    <div className="trace">
      <div className="row">
        <h2>Pitch and beat</h2>
        <button type="button" aria-label="Zoom out" onClick={() => zoom(-1)}>
          −
        </button>
        <button type="button" aria-label="Zoom in" onClick={() => zoom(1)}>
          +
        </button>
        <span className="soft">Arrows go from note to note, with Shift they mark a span; + and − zoom.</span>
      </div>
      <div className="trace-with-scale">
        <TraceScale attempt={attempt} textScale={textScale} />
        <div
          ref={box}
          className="trace-view"
          role="slider"
          tabIndex={0}
          aria-label="Pitch and beat, note by note"
          aria-valuemin={1}
          aria-valuemax={placed.length}
          aria-valuenow={choice.selected + 1}
          aria-valuetext={words}
          onKeyDown={onKey}
          onPointerDown={onPointer}
          onScroll={(event) => setScrollLeft(event.currentTarget.scrollLeft)}
        >
          <div
            className="trace-whole"
            style={{ width: Math.max(1, onScreen * length), height: textScale * TRACE_HEIGHT }}
          >
            <TracePicture
              placed={placed}
              lines={props.lines}
              attempt={attempt}
              perSecond={perSecond}
              textScale={textScale}
              fromSeconds={fromSeconds}
              toSeconds={Math.min(length, Math.max(fromSeconds, toSeconds))}
              selected={choice.selected}
              range={choice.range}
            />
            <HeardNow box={box} hearing={hearing} placed={placed} perSecond={onScreen} />
          </div>
        </div>
      </div>
    </div>
  );
}

/** With Shift the span grows from where it began; without, there is none. */
function chosen(before: TraceChoice, index: number, extend: boolean): TraceChoice {
  if (!extend) return { selected: index, range: null };
  const { range, selected } = before;
  const anchor = range === null ? selected : selected === range.from ? range.to : range.from;
  return { selected: index, range: { from: Math.min(anchor, index), to: Math.max(anchor, index) } };
}

interface KeyVerbs {
  readonly choose: (index: number, extend: boolean) => void;
  readonly zoom: (step: 1 | -1) => void;
  readonly onHear: () => void;
}

function keyAction(
  { key, shiftKey, repeat }: KeyboardEvent,
  selected: number,
  count: number,
  { choose, zoom, onHear }: KeyVerbs,
): (() => void) | null {
  switch (key) {
    case "ArrowRight":
    case "ArrowUp":
      return () => choose(selected + 1, shiftKey);
    case "ArrowLeft":
    case "ArrowDown":
      return () => choose(selected - 1, shiftKey);
    case "Home":
      return () => choose(0, shiftKey);
    case "End":
      return () => choose(count - 1, shiftKey);
    case "+":
    case "=":
      return () => zoom(1);
    case "-":
      return () => zoom(-1);
    case "Enter":
      return repeat ? () => {} : onHear;
    default:
      return null;
  }
}

/** Scrolls the selected note into sight, at once, past the count-in at first, and keeps it there when zoomed. */
function useShown(
  box: { readonly current: HTMLDivElement | null },
  placed: readonly PlacedNote[],
  selected: number,
  perSecond: number,
): void {
  const zoomBefore = useRef<number | null>(null);
  useLayoutEffect(() => {
    const view = box.current;
    const note = placed[selected];
    if (view === null || note === undefined) return;
    const x = perSecond * note.atSeconds;
    const end = perSecond * note.untilSeconds;
    const isInSight = x >= view.scrollLeft && end <= view.scrollLeft + view.clientWidth;
    if (isInSight && zoomBefore.current === perSecond) return;
    zoomBefore.current = perSecond;
    view.scrollLeft = Math.max(0, x - BEFORE_PIXELS);
  }, [box, placed, selected, perSecond]);
}

const SCALE_WIDTH = 72;

/** What the heights mean, beside the picture. */
function TraceScale({ attempt, textScale }: { readonly attempt: Attempt; readonly textScale: number }) {
  const { offCents } = attempt.tolerances;
  const rows: readonly (readonly [number, string])[] = [
    [50, "+50"],
    [offCents, `+${offCents}`],
    [0, "0 cents"],
    [-offCents, `−${offCents}`],
    [-50, "−50"],
  ];
  return (
    <svg
      className="trace-scale"
      width={SCALE_WIDTH * textScale}
      height={TRACE_HEIGHT * textScale}
      viewBox={`0 0 ${SCALE_WIDTH} ${TRACE_HEIGHT}`}
      aria-hidden="true"
    >
      {rows.map(([cents, words]) => (
        <text key={words} x={64} y={yOfCents(cents) + 5}>
          {words}
        </text>
      ))}
      <text x={64} y={BEAT_LINE + 5}>
        beat
      </text>
    </svg>
  );
}

interface HeardNowProps {
  readonly box: { readonly current: HTMLDivElement | null };
  readonly hearing: TakeHearing;
  readonly placed: readonly PlacedNote[];
  readonly perSecond: number;
}

/** Where the take or the reference is being heard; what runs out of sight takes the view along, a window at a time. */
function HeardNow({ box, hearing, placed, perSecond }: HeardNowProps) {
  const state = useSyncExternalStore(hearing.subscribe, hearing.getState);
  const at =
    state.kind === "take"
      ? state.atSeconds
      : state.kind === "reference" && state.noteIndex !== null
        ? (placed[state.noteIndex]?.atSeconds ?? null)
        : null;
  const x = at === null ? null : perSecond * at;
  const before = useRef<number | null>(null);
  useLayoutEffect(() => {
    const view = box.current;
    const last = before.current;
    before.current = x;
    if (view === null || x === null || last === null) return;
    const isInSight = (place: number) =>
      place >= view.scrollLeft && place <= view.scrollLeft + view.clientWidth;
    // Whoever has scrolled away meanwhile is left there.
    if (isInSight(last) && !isInSight(x)) view.scrollLeft = Math.max(0, x - BEFORE_PIXELS);
  }, [box, x]);
  return x === null ? null : <div className="heard-now" style={{ left: x }} />;
}
