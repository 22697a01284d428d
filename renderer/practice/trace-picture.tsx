import { memo } from "react";
import type { Attempt, Tolerances } from "../../core/score/attempt.ts";
import { inTuneLimit } from "../../core/score/marks.ts";
import { Sign } from "../ui/signs.tsx";
import { useWriting } from "../ui/writing.ts";
import { calledNote } from "./note-facts.ts";
import type { NoteRange, PlacedNote } from "./placed-notes.ts";
import { pathOf, SHOWN_CENTS, type TraceLine } from "./trace-lines.ts";
import {
  BEAT_LINE,
  heightOfCents,
  MIDDLE,
  NAMES_HEIGHT,
  PITCH_HEIGHT,
  TRACE_HEIGHT,
  yOfCents,
} from "./trace-scale.ts";

interface TracePictureProps {
  readonly placed: readonly PlacedNote[];
  readonly lines: readonly TraceLine[];
  readonly attempt: Attempt;
  /** Pixels a second takes in text of the usual size; larger text makes everything larger. */
  readonly perSecond: number;
  readonly textScale: number;
  readonly fromSeconds: number;
  readonly toSeconds: number;
  readonly selected: number;
  readonly range: NoteRange | null;
}

/** The part of the trace between two moments; everything outside costs nothing. */
export const TracePicture = memo(function TracePicture(props: TracePictureProps) {
  const { placed, lines, attempt, perSecond, textScale, fromSeconds, toSeconds, selected, range } = props;
  const width = Math.max(1, perSecond * (toSeconds - fromSeconds));
  const xOf = (seconds: number) => perSecond * (seconds - fromSeconds);
  const inSight = placed.filter(
    ({ atSeconds, untilSeconds, mark }) =>
      Math.max(untilSeconds, mark.offSeconds ?? 0) >= fromSeconds &&
      Math.min(atSeconds, mark.onSeconds ?? atSeconds) <= toSeconds,
  );
  const [first, last] = [inSight[0]?.note.index ?? 0, inSight.at(-1)?.note.index ?? -1];
  return (
    <svg
      className="trace-picture"
      style={{ left: textScale * perSecond * fromSeconds }}
      width={textScale * width}
      height={textScale * TRACE_HEIGHT}
      viewBox={`0 0 ${width} ${TRACE_HEIGHT}`}
      aria-hidden="true"
    >
      {inSight.map((one) => (
        <Target key={one.note.index} placed={one} xOf={xOf} tolerances={attempt.tolerances} />
      ))}
      {range !== null && <Framed placed={placed} range={range} xOf={xOf} className="span" />}
      <Framed placed={placed} range={{ from: selected, to: selected }} xOf={xOf} className="chosen" />
      {inSight.map((one) => (
        <Counts key={one.note.index} placed={one} xOf={xOf} />
      ))}
      {lines
        .filter((line) => line.index >= first && line.index <= last)
        .map((line) => (
          <path
            key={`${line.index} ${line.points[0]?.atSeconds}`}
            className={line.beyond ? "pitch beyond" : "pitch"}
            d={pathOf(line, xOf, yOfCents)}
          />
        ))}
      {inSight.map((one) => (
        <Answer key={one.note.index} placed={one} xOf={xOf} />
      ))}
      {attempt.extras
        .filter((extra) => extra.onSeconds >= fromSeconds && extra.onSeconds <= toSeconds)
        .map((extra) => (
          <path
            key={extra.onSeconds}
            className="sign cross"
            d={`M ${xOf(extra.onSeconds)} ${MIDDLE} h 16 m -8 -8 v 16`}
          />
        ))}
    </svg>
  );
});

interface NotePartProps {
  readonly placed: PlacedNote;
  readonly xOf: (seconds: number) => number;
}

/** Narrower boxes have no room for the name of their note. */
const LEAST_FOR_NAME = 36;
const LEAST_FOR_TAB = 76;

/** The box of a note: its bands about the target, its beat, its name. */
function Target({ placed, xOf, tolerances }: NotePartProps & { readonly tolerances: Tolerances }) {
  const { note, atSeconds, untilSeconds, beginsBar } = placed;
  const writing = useWriting();
  const x = xOf(atSeconds);
  const width = Math.max(1, xOf(untilSeconds) - x);
  const inTune = inTuneLimit(note, tolerances);
  const off = tolerances.offCents;
  return (
    <g>
      <rect className="band" x={x} y={yOfCents(inTune)} width={width} height={heightOfCents(2 * inTune)} />
      <path className="close" d={`M${x} ${yOfCents(off)}h${width}M${x} ${yOfCents(-off)}h${width}`} />
      <line className="rule" x1={x} x2={x + width} y1={MIDDLE} y2={MIDDLE} />
      <line
        className={beginsBar ? "bar" : "beat"}
        x1={x}
        x2={x}
        y1={beginsBar ? 0 : NAMES_HEIGHT}
        y2={BEAT_LINE + 12}
      />
      {width >= LEAST_FOR_NAME && (
        <text x={x + 6} y={NAMES_HEIGHT - 10}>
          {width >= LEAST_FOR_TAB
            ? `${calledNote(note, writing)} ${writing.tab(note.tab)}`
            : calledNote(note, writing)}
        </text>
      )}
    </g>
  );
}

/** The pitch that counts for a note, under what was heard. */
function Counts({ placed, xOf }: NotePartProps) {
  const { cents, intonation, onSeconds, offSeconds } = placed.mark;
  if (cents === null || onSeconds === null || offSeconds === null) return null;
  const off = intonation === "sharp" || intonation === "flat";
  const y = yOfCents(Math.max(-SHOWN_CENTS, Math.min(SHOWN_CENTS, cents)));
  return (
    <line className={off ? "counts off" : "counts"} x1={xOf(onSeconds)} x2={xOf(offSeconds)} y1={y} y2={y} />
  );
}

/** What became of a note: where it began against its beat, or the sign of what went wrong. */
function Answer({ placed, xOf }: NotePartProps) {
  const { mark, atSeconds, untilSeconds } = placed;
  const writing = useWriting();
  const x = xOf(atSeconds);
  const begins = mark.onSeconds === null ? null : xOf(mark.onSeconds);
  const late = mark.timing === "early" || mark.timing === "late";
  const room = xOf(untilSeconds) - x;
  return (
    <g>
      {mark.verdict !== "hit" && <Sign mark={mark} x={x + Math.min(22, room / 2)} middle={MIDDLE} />}
      {mark.verdict === "wrong" && room >= LEAST_FOR_TAB && (
        <text className="heard-words" x={x + 38} y={MIDDLE + 6}>
          {writing.tab(mark.heardAs[0] ?? "?")}
        </text>
      )}
      {begins !== null && mark.ms !== null && (
        <rect
          className={late ? "off-beat" : "near-beat"}
          x={Math.min(x, begins)}
          y={BEAT_LINE - 4}
          width={Math.max(1, Math.abs(begins - x))}
          height={8}
        />
      )}
      {begins !== null && (
        <line className="onset" x1={begins} x2={begins} y1={BEAT_LINE - 12} y2={BEAT_LINE + 12} />
      )}
      {late && mark.ms !== null && room >= LEAST_FOR_TAB && (
        <text x={Math.max(x, begins ?? x) + 6} y={BEAT_LINE + 6}>
          {`${Math.abs(mark.ms).toFixed(0)} ms`}
        </text>
      )}
    </g>
  );
}

interface FramedProps {
  readonly placed: readonly PlacedNote[];
  readonly range: NoteRange;
  readonly xOf: (seconds: number) => number;
  readonly className: string;
}

/** A frame about notes, from the first to the last. */
function Framed({ placed, range, xOf, className }: FramedProps) {
  const [first, last] = [placed[range.from], placed[range.to]];
  if (first === undefined || last === undefined) return null;
  const x = xOf(first.atSeconds);
  const width = Math.max(4, xOf(last.untilSeconds) - x);
  return <rect className={className} x={x} y={2} width={width} height={NAMES_HEIGHT + PITCH_HEIGHT - 4} />;
}
