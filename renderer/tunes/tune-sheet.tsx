import { useMemo } from "react";
import type { Exercise, ExpectedNote } from "../../core/exercise/exercise.ts";
import { type OrnamentsOf, type StaffLine, staffLines } from "../../core/exercise/exercise-abc.ts";
import { movedName } from "../../core/exercise/on-harp-words.ts";
import type { TunePlan } from "../../core/exercise/tune-plan.ts";
import { onceThrough } from "../../core/tune/once-through.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { useDisplay } from "../ui/display.ts";
import { SheetLine } from "../ui/sheet-line.tsx";
import type { NoteSpan } from "../ui/staff.tsx";
import { useWidth } from "../ui/use-width.ts";
import type { OpenTune } from "./tune-view.ts";

interface TuneSheetProps {
  readonly open: OpenTune;
  readonly plan: TunePlan;
  readonly exercise: Exercise;
  /** Note of the tune that is chosen, in playing order. */
  readonly chosen: number;
  readonly onChoose: (note: number) => void;
}

/** Width a note takes at least, so that its tab can be read. */
const NOTE_PX = 44;
const MOST_BARS = 4;
const OCTAVE = 12;

/** The whole tune once through: staff, tab, where phrases begin and where a breath fits. */
export function TuneSheet({ open, plan, exercise, chosen, onChoose }: TuneSheetProps) {
  const [box, width] = useWidth<HTMLElement>(1000);
  const { textScale } = useDisplay();
  const ornaments = useMemo(() => ornamentsOn(open, plan), [open, plan]);
  const lines = useMemo(
    () => linesFor(exercise, width / textScale, ornaments),
    [exercise, width, textScale, ornaments],
  );
  const signs = useMemo(() => signsOf(open, plan), [open, plan]);
  return (
    <section aria-label="Sheet" className="tune-sheet" ref={box}>
      {lines.map((line) => (
        <SheetLine
          key={`${line.from} ${line.to}`}
          exercise={exercise}
          line={line}
          width={width}
          now={signs.findIndex((sign) => sign.alike.includes(chosen))}
          below={(notes, spans) => (
            <SignRow notes={notes} spans={spans} width={width} signs={signs} onChoose={onChoose} />
          )}
        />
      ))}
    </section>
  );
}

function linesFor(exercise: Exercise, width: number, ornaments: OrnamentsOf): readonly StaffLine[] {
  const most = Math.max(6, Math.floor(width / NOTE_PX));
  for (let bars = MOST_BARS; bars > 1; bars = Math.floor(bars / 2)) {
    const lines = staffLines(exercise, bars, ornaments);
    if (lines.every((line) => line.to - line.from <= most)) return lines;
  }
  return staffLines(exercise, 1, ornaments);
}

interface Sign {
  /** Notes of the tune, in playing order, that are this one on the page. */
  readonly alike: readonly number[];
  /** Phrase that begins here: "A 1–4". */
  readonly phrase: string | null;
  readonly breathAfter: boolean;
  readonly pinned: boolean;
}

/** Places in the tune of the notes on the page: those the harp sounds, each written bar once. */
const placesOnPage = (tune: Tune, plan: TunePlan): readonly number[] =>
  onceThrough(tune).from.filter((place) => (plan.path.actions[place] ?? null) !== null);

/** The tune's ornaments at the pitch it is played on this harp. */
function ornamentsOn({ tune }: OpenTune, plan: TunePlan): OrnamentsOf {
  const octaves = plan.shift / OCTAVE;
  const byNote = placesOnPage(tune, plan).map((place) =>
    (tune.notes[place]?.ornaments ?? []).map((one) => ({
      ...one,
      notes: one.notes.map((note) => ({ ...note, name: movedName(note.name, octaves) })),
    })),
  );
  return ({ index }) => byNote[index] ?? [];
}

/** What stands under each note that the harp sounds, in the order of the sheet. */
function signsOf({ tune, study }: OpenTune, plan: TunePlan): readonly Sign[] {
  const begins = new Map(
    plan.phrases.map((phrase) => [
      tune.notes.find((note) => note.startTicks >= phrase.startTicks)?.index ?? -1,
      phrase.words,
    ]),
  );
  const breaths = new Set(plan.balance.places.map((place) => tune.notes[place.after]?.written ?? -1));
  const pinned = new Set((study.pins ?? []).map(({ written }) => written));
  return placesOnPage(tune, plan).map((place) => {
    const written = tune.notes[place]?.written ?? -1;
    return {
      alike: tune.notes.filter((note) => note.written === written).map((note) => note.index),
      phrase: begins.get(place) ?? null,
      breathAfter: breaths.has(written),
      pinned: pinned.has(written),
    };
  });
}

const SIGN_PX = 28;

interface SignRowProps {
  readonly notes: readonly ExpectedNote[];
  readonly spans: readonly NoteSpan[];
  readonly width: number;
  readonly signs: readonly Sign[];
  readonly onChoose: (note: number) => void;
}

/** Phrase beginnings, breath signs and pins; a press on a note chooses it. Keys choose notes in the part under the sheet. */
function SignRow({ notes, spans, width, signs, onChoose }: SignRowProps) {
  const height = SIGN_PX * useDisplay().textScale;
  const foot = height - 10;
  return (
    <svg className="sign-row" width={width} height={height} aria-hidden="true">
      {notes.map((note, place) => {
        const span = spans[place];
        const sign = signs[note.index];
        if (span === undefined || sign === undefined) return null;
        return (
          // biome-ignore lint/a11y/noStaticElementInteractions: the same by keyboard in the part "One note"
          <g key={note.index} onClick={() => onChoose(sign.alike[0] ?? 0)}>
            <rect x={span.left} y={0} width={Math.max(0, span.right - span.left)} height={height} />
            {sign.phrase !== null && (
              <>
                <line x1={span.left + 2} x2={span.left + 2} y1={0} y2={height} />
                <text x={span.left + 8} y={foot}>
                  {sign.phrase}
                </text>
              </>
            )}
            {sign.pinned && sign.phrase === null && <circle cx={span.left + 16} cy={12} r={4} />}
            {sign.breathAfter && (
              <text className="breath" x={span.right - 10} y={foot}>
                ’
              </text>
            )}
          </g>
        );
      })}
    </svg>
  );
}
