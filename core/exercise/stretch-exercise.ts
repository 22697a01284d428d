import type { Abilities } from "../instrument/reed-actions.ts";
import type { Span } from "../tune/phrases.ts";
import type { Tempo } from "../tune/tempo.ts";
import type { Tune } from "../tune/tune.ts";
import { bpm } from "../units.ts";
import type { MadeExercise } from "./drill-spec.ts";
import { beatOf, tempoIn, tuneExercise, usualRhythm } from "./tune-exercise.ts";
import { type Rung, rungTempo } from "./tune-ladder.ts";
import type { TunePlan } from "./tune-plan.ts";

/** A tune laid on a harp, with what every stretch of it has in common. */
export interface TuneOnHarp {
  /** As the history finds it. */
  readonly tuneId: string;
  readonly tune: Tune;
  readonly plan: Pick<TunePlan, "harp" | "shift" | "path">;
  readonly abilities: Abilities;
  /** The tempo the ladder leads to, in the note value the metre is felt in. */
  readonly dance: Tempo;
  /** Long to short of notes that share a beat, 1 for even. */
  readonly swing: number;
}

export interface Stretch {
  readonly words: string;
  readonly span: Span;
  /** Of the dance tempo. */
  readonly tempoShare: number;
  readonly times: number;
  /** Null for a stretch that is no rung. */
  readonly rung: string | null;
}

const COUNT_IN_BARS = 1;

/** The tempo a tune says itself, in whole beats of the note value its metre is felt in. */
export function ownTempo({ tempo, metre }: Tune): Tempo {
  const counted = tempoIn(tempo, beatOf(metre, tempo));
  return { ...counted, bpm: bpm(Math.round(counted.bpm)) };
}

/** A stretch of the tune as an exercise on its path. */
export function stretchExercise(of: TuneOnHarp, stretch: Stretch): MadeExercise {
  const { tuneId, tune, plan, abilities, dance, swing } = of;
  const { words, span, tempoShare, times, rung } = stretch;
  const counted = beatsPerBarOf(tune, dance);
  return tuneExercise({
    tune,
    words,
    span,
    harp: plan.harp,
    shift: plan.shift,
    actions: plan.path.actions,
    abilities,
    tempo: { ...dance, bpm: rungTempo(dance.bpm, { tempoShare }) },
    rhythm: usualRhythm(swing),
    // At least three counts, so that a tempo can be felt.
    countInBeats: counted * Math.max(COUNT_IN_BARS, Math.ceil(3 / counted)),
    times,
    of: { tuneId, rung: rung ?? "" },
  });
}

export const rungStretch = (rung: Rung): Stretch => ({
  words: rung.words,
  span: rung.span,
  tempoShare: rung.tempoShare,
  // A phrase is played twice on end, so that its joint is practised too.
  times: rung.kind === "phrase" ? 2 : 1,
  rung: rung.id,
});

function beatsPerBarOf({ metre }: Tune, { noteValue }: Tempo): number {
  if (metre === null) return 4;
  const [top = 1, bottom = 4] = noteValue.split("/").map(Number);
  return Math.max(1, Math.round((metre.beats / metre.unit) * (bottom / top)));
}
