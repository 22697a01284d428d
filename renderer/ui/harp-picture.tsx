import { type ExpectedChord, holesOf } from "../../core/exercise/exercise.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import { harpName, reedNote } from "../../core/instrument/harp.ts";
import type { Breath } from "../../core/instrument/layout.ts";
import type { ReedAction } from "../../core/instrument/reed-actions.ts";
import { noteName } from "../../core/pitch/note-names.ts";
import { playInWords } from "./breath-words.ts";
import { useDisplay } from "./display.ts";
import { useWriting } from "./writing.ts";

interface HarpPictureProps {
  readonly harp: Harp;
  /** Note names of the scale, for spelling. */
  readonly spelling: readonly string[];
  /** The action to mark as next, or null. */
  readonly next: ReedAction | null;
  /** The chord of which that action is the lowest reed. */
  readonly chord?: ExpectedChord | undefined;
  /** Reeds that were changed: framed, with by how many semitones. */
  readonly changes?: readonly ChangedReed[] | null;
}

/** A reed that sounds another note than before. */
export interface ChangedReed {
  readonly hole: number;
  readonly breath: Breath;
  /** Semitones above the key note. */
  readonly from: number;
  readonly to: number;
}

const HOLE_WIDTH = 72;
const ROW = 36;
const BODY = 40;
const HEIGHT = 2 * ROW + BODY;
/** Above and below, for by how much a reed was changed. */
const CHANGE_ROW = 24;

/** The harp as a player sees it: holes left to right or, held turned round, right to left; blow above, draw below, the next action marked by wedge and frame. */
export function HarpPicture({ harp, spelling, next, chord, changes = null }: HarpPictureProps) {
  const count = harp.layout.holes.length;
  const { say } = useWriting();
  const placeOf = usePlaceOf(harp);
  const name = say(harpName(harp));
  const beyond = changes === null ? 0 : CHANGE_ROW;
  const asked = next === null ? null : { action: next, ...(chord === undefined ? {} : { chord }) };
  const holes = asked === null ? [] : holesOf(asked);
  const label = asked === null ? name : `${name}; next: ${playInWords(asked)}`;
  return (
    <svg
      className="harp"
      role="img"
      aria-label={label}
      viewBox={`0 ${-beyond} ${count * HOLE_WIDTH} ${HEIGHT + 2 * beyond}`}
      width={count * HOLE_WIDTH}
      height={HEIGHT + 2 * beyond}
    >
      {harp.layout.holes.map((_, place) => (
        <HoleColumn
          // biome-ignore lint/suspicious/noArrayIndexKey: holes have no other name than their number and never move
          key={place}
          harp={harp}
          hole={place + 1}
          spelling={spelling}
          isNext={holes.includes(place + 1)}
        />
      ))}
      {next !== null && holes.map((hole) => <BreathWedge key={hole} action={next} place={placeOf(hole)} />)}
      {changes?.map((change) => (
        <ChangeFrame key={`${change.hole} ${change.breath}`} change={change} place={placeOf(change.hole)} />
      ))}
    </svg>
  );
}

/** Where a hole stands, counted from 0 at the left. */
function usePlaceOf(harp: Harp): (hole: number) => number {
  const { mirrored } = useDisplay();
  return (hole) => (mirrored ? harp.layout.holes.length - hole : hole - 1);
}

interface HoleColumnProps {
  readonly harp: Harp;
  readonly hole: number;
  readonly spelling: readonly string[];
  readonly isNext: boolean;
}

function HoleColumn({ harp, hole, spelling, isNext }: HoleColumnProps) {
  const middle = (usePlaceOf(harp)(hole) + 0.5) * HOLE_WIDTH;
  const writing = useWriting();
  const name = (breath: "blow" | "draw") => {
    const note = reedNote(harp, hole, breath);
    return note === null ? "" : writing.note(noteName(note, spelling).replace(/-?\d+$/, ""));
  };
  return (
    <g className={isNext ? "hole next" : "hole"}>
      <text className={longName(name("blow"))} x={middle} y={ROW - 12}>
        {name("blow")}
      </text>
      <rect x={middle - HOLE_WIDTH / 2 + 4} y={ROW} width={HOLE_WIDTH - 8} height={BODY} />
      <text className="number" x={middle} y={ROW + 28}>
        {hole}
      </text>
      <text className={longName(name("draw"))} x={middle} y={ROW + BODY + 26}>
        {name("draw")}
      </text>
    </g>
  );
}

/** More than a letter and a sign leaves no room for the wedge beside it. */
const longName = (name: string) => (name.length > 2 ? "long" : undefined);

/** A frame round a changed reed's note, and by how many semitones it moved. */
function ChangeFrame({ change, place }: { readonly change: ChangedReed; readonly place: number }) {
  const left = place * HOLE_WIDTH + 4;
  const top = change.breath === "blow" ? 2 : ROW + BODY + 3;
  const by = change.to - change.from;
  return (
    <g className="changed">
      <rect x={left} y={top} width={HOLE_WIDTH - 8} height={ROW - 5} />
      <text className="by" x={left + HOLE_WIDTH / 2 - 4} y={change.breath === "blow" ? -5 : HEIGHT + 17}>
        {by > 0 ? `+${by}` : `−${-by}`}
      </text>
    </g>
  );
}

/** Which way the air goes: out of the harp's front upwards for blow, into it downwards for draw; a stroke for each bent semitone. */
function BreathWedge({ action, place }: { readonly action: ReedAction; readonly place: number }) {
  const left = place * HOLE_WIDTH + 14;
  const tip = action.breath === "blow" ? ROW - 26 : ROW + BODY + 26;
  const base = action.breath === "blow" ? ROW - 8 : ROW + BODY + 8;
  const strokes = Array.from({ length: action.bentSemitones }, (_, n) => n);
  return (
    <g className="wedge">
      <path d={`M ${left - 9} ${base} L ${left + 9} ${base} L ${left} ${tip} Z`} />
      {strokes.map((n) => (
        <line
          key={n}
          x1={left + HOLE_WIDTH - 24 + 6 * n}
          y1={base}
          x2={left + HOLE_WIDTH - 20 + 6 * n}
          y2={tip}
        />
      ))}
    </g>
  );
}
