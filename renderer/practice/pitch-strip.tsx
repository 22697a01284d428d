import { useSyncExternalStore } from "react";
import type { ExpectedNote } from "../../core/exercise/exercise.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { useDisplay } from "../ui/display.ts";
import { PIXELS_PER_CENT, Sign, STRIP_CENTS } from "../ui/signs.tsx";
import type { NoteSpan } from "../ui/staff.tsx";
import { useWriting } from "../ui/writing.ts";
import type { LiveTrace } from "./live-trace.ts";

interface PitchStripProps {
  readonly notes: readonly ExpectedNote[];
  readonly spans: readonly NoteSpan[];
  readonly width: number;
  readonly inTuneCents: number;
  /** What was heard so far, while playing. */
  readonly trace: LiveTrace;
  /** The marks, after playing. */
  readonly attempt: Attempt | null;
}

const HALF = STRIP_CENTS * PIXELS_PER_CENT + 12;
/** Room at the foot for early and late bars. */
const FOOT = 20;
const HEIGHT = 2 * HALF + FOOT;
/** Milliseconds shown at most by an early or late bar, and pixels for each. */
const MOST_MS = 150;
const PIXELS_PER_MS = 0.25;

/** One box a note as wide as it lasts: middle line the target, shaded band in tune, the heard pitch drawn in. */
export function PitchStrip({ notes, spans, width, inTuneCents, trace, attempt }: PitchStripProps) {
  const first = spans[0]?.left ?? 0;
  const band = inTuneCents * PIXELS_PER_CENT;
  return (
    <svg className="strip" width={width} height={HEIGHT} aria-hidden="true">
      <rect className="band" x={first} y={HALF - band} width={Math.max(0, width - first)} height={2 * band} />
      <line className="rule" x1={first} x2={width} y1={HALF} y2={HALF} />
      {notes.map((note, place) => {
        const span = spans[place];
        if (span === undefined) return null;
        return (
          <g key={note.index}>
            <line className="beat" x1={span.left} x2={span.left} y1={4} y2={HEIGHT - FOOT} />
            <Heard index={note.index} span={span} trace={trace} />
            {attempt !== null && <Marked index={note.index} span={span} attempt={attempt} />}
          </g>
        );
      })}
    </svg>
  );
}

interface InBoxProps {
  readonly index: number;
  readonly span: NoteSpan;
}

function Heard({ index, span, trace }: InBoxProps & { readonly trace: LiveTrace }) {
  const points = useSyncExternalStore(trace.subscribe, () => trace.of(index));
  return points.map((point) => (
    <circle
      key={point.share}
      className={point.beyond ? "heard beyond" : "heard"}
      cx={span.left + point.share * (span.right - span.left)}
      cy={HALF - point.cents * PIXELS_PER_CENT}
      r={3}
    />
  ));
}

function Marked({ index, span, attempt }: InBoxProps & { readonly attempt: Attempt }) {
  const writing = useWriting();
  const { textScale } = useDisplay();
  const mark = attempt.marks[index];
  if (mark === undefined) return null;
  const extras = attempt.extras.filter((extra) => extra.afterIndex === index).length;
  const late = mark.timing === "early" || mark.timing === "late" ? (mark.ms ?? 0) : 0;
  const bar = Math.max(-MOST_MS, Math.min(MOST_MS, late)) * PIXELS_PER_MS;
  const x = span.left + 22;
  return (
    <g>
      <Sign mark={mark} x={x} middle={HALF} />
      {mark.verdict === "wrong" && (
        <text className="heard-words" x={span.left + 4} y={16 * textScale}>
          {writing.tab(mark.heardAs[0] ?? "?")}
        </text>
      )}
      {bar !== 0 && (
        <rect
          className="off-beat"
          x={span.left + Math.min(0, bar)}
          y={HEIGHT - FOOT + 4}
          width={Math.abs(bar)}
          height={10}
        />
      )}
      {extras > 0 && <path className="sign cross" d={`M ${span.right - 18} ${HALF} h 16 m -8 -8 v 16`} />}
    </g>
  );
}
