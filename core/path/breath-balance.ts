import type { ReedAction } from "../instrument/reed-actions.ts";
import { type Seconds, seconds } from "../units.ts";
import { type AirStep, afterNote, airSteps, evened } from "./air.ts";
import type { Line } from "./line.ts";
import type { Weights } from "./weights.ts";

/** Air at a moment, in seconds of playing: above 0 more drawn than blown. See `air.ts`. */
export interface AirPoint {
  readonly atSeconds: Seconds;
  readonly airSeconds: Seconds;
}

/** A stretch with more air, or less, than is comfortable. */
export interface AirTrouble {
  readonly kind: "runs out" | "piles up";
  /** Places in the line, first and last note. */
  readonly from: number;
  readonly to: number;
  readonly where: string;
  /** Furthest from the middle, > 0. */
  readonly mostSeconds: Seconds;
  /** "air runs out from bar 5 to bar 8: 6.2 s more blown than drawn". */
  readonly words: string;
}

/** Where a breath fits: in a rest, or by cutting the note before it short. */
export interface BreathPlace {
  /** The note it comes after. */
  readonly after: number;
  readonly where: string;
  readonly kind: "rest" | "phrase end" | "long note";
  /** Time for it. */
  readonly seconds: Seconds;
  /** Air there, before the breath. */
  readonly airSeconds: Seconds;
}

export interface BreathBalance {
  readonly blowSeconds: Seconds;
  readonly drawSeconds: Seconds;
  /** Before and after each sounded note. */
  readonly air: readonly AirPoint[];
  readonly troubles: readonly AirTrouble[];
  readonly places: readonly BreathPlace[];
}

/**
 * A note this many shortest rests long may give its end to a breath; at the end of a phrase a shorter one. Common practice:
 * the first lets a dotted crotchet of a jig, the second the crotchet of a reel, at 116 beats a minute.
 */
const LONG_NOTE_RESTS = 2;
const PHRASE_END_RESTS = 1.25;

/**
 * The course of the air along a path, where there is too much or too little of it, and where a breath fits. The course counts
 * the rests; breaths that would cut a note short are offered, not taken.
 *
 * @param phraseEnds places in the line of the last notes of phrases
 */
export function breathBalance(
  line: Line,
  actions: readonly (ReedAction | null)[],
  weights: Weights,
  phraseEnds: readonly number[] = [],
): BreathBalance {
  const steps = airSteps(line, (note) => (actions[note] ?? null) !== null, weights);
  const course: Ended[] = [];
  const air: AirPoint[] = [];
  const held = { blow: 0, draw: 0 };
  let now = 0;
  for (const step of steps) {
    const breath = actions[step.note]?.breath ?? "blow";
    const start = line[step.note]?.startSeconds ?? 0;
    now = evened(now, step.evensSeconds);
    air.push({ atSeconds: seconds(start), airSeconds: seconds(now) });
    now = afterNote(now, breath, step.lengthSeconds);
    air.push({ atSeconds: seconds(start + step.lengthSeconds), airSeconds: seconds(now) });
    held[breath] += step.lengthSeconds;
    course.push({ step, air: now });
  }
  return {
    blowSeconds: seconds(held.blow),
    drawSeconds: seconds(held.draw),
    air,
    troubles: troublesOf(line, course, weights),
    places: placesOf(line, course, weights, new Set(phraseEnds)),
  };
}

/** A sounded note and the air at its end. */
interface Ended {
  readonly step: AirStep;
  readonly air: number;
}

type Run = Pick<AirTrouble, "kind" | "from" | "to"> & { readonly most: number };

function troublesOf(line: Line, course: readonly Ended[], weights: Weights): readonly AirTrouble[] {
  const runs: Run[] = [];
  let before: AirTrouble["kind"] | null = null;
  for (const { step, air } of course) {
    const kind = air > weights.airSeconds ? "piles up" : air < -weights.airSeconds ? "runs out" : null;
    const last = runs.at(-1);
    if (kind !== null && kind === before && last !== undefined)
      runs[runs.length - 1] = { ...last, to: step.note, most: Math.max(last.most, Math.abs(air)) };
    else if (kind !== null) runs.push({ kind, from: step.note, to: step.note, most: Math.abs(air) });
    before = kind;
  }
  return runs.map((run) => inWords(line, run));
}

function inWords(line: Line, { kind, from, to, most }: Run): AirTrouble {
  const where = line[from]?.where ?? "bar 1";
  const until = line[to]?.where ?? where;
  const span = until === where ? `in ${where}` : `from ${where} to ${until}`;
  const more = kind === "piles up" ? "drawn than blown" : "blown than drawn";
  const words = `air ${kind} ${span}: ${most.toFixed(1)} s more ${more}`;
  return { kind, from, to, where, mostSeconds: seconds(most), words };
}

function placesOf(
  line: Line,
  course: readonly Ended[],
  weights: Weights,
  phraseEnds: ReadonlySet<number>,
): readonly BreathPlace[] {
  const { restSeconds } = weights;
  return course.flatMap(({ step, air }, index): readonly BreathPlace[] => {
    const note = line[step.note];
    const next = line[course[index + 1]?.step.note ?? -1];
    if (note === undefined) return [];
    const found = (kind: BreathPlace["kind"], time: number) => [
      { after: step.note, where: note.where, kind, seconds: seconds(time), airSeconds: seconds(air) },
    ];
    const rest = next === undefined ? 0 : next.startSeconds - note.startSeconds - step.lengthSeconds;
    if (rest >= restSeconds - 1e-9 && rest > 0) return found("rest", rest);
    const rests = step.lengthSeconds / Math.max(restSeconds, 1e-9) + 1e-9;
    if (phraseEnds.has(step.note) && rests >= PHRASE_END_RESTS) return found("phrase end", restSeconds);
    return rests >= LONG_NOTE_RESTS ? found("long note", restSeconds) : [];
  });
}
