import type { DrillSpec, MadeExercise } from "../exercise/drill-spec.ts";
import type { Exercise } from "../exercise/exercise.ts";
import { makeDrill } from "../exercise/make-drill.ts";
import { ownTempo, rungStretch, stretchExercise } from "../exercise/stretch-exercise.ts";
import { usualSwing } from "../exercise/tune-exercise.ts";
import { USUAL_RULE } from "../exercise/tune-ladder.ts";
import { planTune } from "../exercise/tune-plan.ts";
import { type Harp, harpInKey } from "../instrument/harp.ts";
import { PLAIN_AND_BENDS, type ReedAction } from "../instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../instrument/stock-layouts.ts";
import { FIRST_WEIGHTS } from "../path/weights.ts";
import type { Tempo } from "../tune/tempo.ts";
import type { Tune } from "../tune/tune.ts";
import { bpm, semitones } from "../units.ts";

/** A tune of the demonstration, as the list of tunes knows it. */
export interface DemoTune {
  readonly tuneId: string;
  readonly tune: Tune;
}

/** What the made-up player works at. */
export interface DemoRepertoire {
  /** Played once to begin each day. */
  readonly warmUp: Exercise;
  /** Done every day. */
  readonly daily: Exercise;
  /** Taken in turn; the last ones only in the second half of the month. */
  readonly inTurn: readonly Exercise[];
  readonly later: readonly Exercise[];
}

/** A player of the village band with a G and a D harp: drills in second and twelfth position, and phrases of tunes. */
export function demoRepertoire(tunes: readonly DemoTune[]): DemoRepertoire {
  const [g, d] = [stockHarp("G"), stockHarp("D")];
  const onG = { ...USUAL, harp: g, position: 2, mode: "mixolydian" } as const;
  const onD = { ...USUAL, harp: d, position: 12, mode: "lydian" } as const;
  const running = { notesPerBeat: 1, direction: "both", start: "lowest" } as const;
  const phrases = tunes.map((tune) => phrasesOf(tune, [g, d]));
  return {
    warmUp: made({
      ...onG,
      kind: "long-tones",
      octaves: 1,
      start: "easiest",
      direction: "up",
      toneBeats: 3,
      restBeats: 1,
    }),
    daily: made({ ...onG, ...running, kind: "scale", octaves: 2 }),
    inTurn: [
      made({
        ...onG,
        kind: "breath-pair",
        first: plain(6, "blow"),
        second: plain(7, "draw"),
        rounds: [1, 2],
        roundBeats: 8,
      }),
      ...(phrases[0]?.phrases ?? []),
      made({
        ...onG,
        kind: "bend",
        figure: "from-above",
        hole: 3,
        breath: "draw",
        bentSemitones: 2,
        holdBeats: 2,
        restBeats: 1,
        repeats: 16,
        targetShown: true,
        seed: 1,
      }),
      ...(phrases[1]?.phrases.slice(0, 1) ?? []),
      made({ ...onD, ...running, kind: "scale", octaves: 1, start: "easiest" }),
      made({ ...onG, ...running, kind: "arpeggio", degree: "1", size: "seventh", octaves: 2 }),
    ],
    later: [...(phrases[2]?.phrases ?? []), ...(phrases[0]?.strain ?? [])],
  };
}

const TEMPO: Tempo = { bpm: bpm(84), noteValue: "1/4" };
const USUAL = { abilities: PLAIN_AND_BENDS, countInBeats: 4, tempo: TEMPO } as const;

const plain = (hole: number, breath: ReedAction["breath"]): ReedAction => ({
  hole,
  breath,
  technique: "plain",
  bentSemitones: semitones(0),
});

function stockHarp(key: string): Harp {
  const harp = harpInKey(STANDARD_LAYOUT, key);
  if (harp === null) throw new RangeError(`there is no ${key} harp`);
  return harp;
}

const made = (spec: DrillSpec): Exercise => exerciseOf(makeDrill(spec));

/** @throws RangeError where it cannot be made: a fault of the demonstration, not of the player */
function exerciseOf(one: MadeExercise): Exercise {
  if (one.kind === "impossible") throw new RangeError(`the demonstration cannot be made: ${one.reason}`);
  return one.exercise;
}

/** The first two phrases of a tune, and its first strain, on the harp that suits it best. */
function phrasesOf({ tuneId, tune }: DemoTune, harps: readonly Harp[]) {
  const dance = ownTempo(tune);
  const plan = planTune({
    tune,
    harps,
    abilities: PLAIN_AND_BENDS,
    weights: FIRST_WEIGHTS,
    tempo: dance,
    octaves: null,
    pins: [],
    even: false,
    phraseBars: 4,
    phrases: null,
    rule: USUAL_RULE,
  });
  const on = { tuneId, tune, plan, abilities: PLAIN_AND_BENDS, dance, swing: usualSwing(tune.dance) };
  const rungs = (kind: string, count: number) =>
    plan.ladder
      .filter((rung) => rung.kind === kind)
      .slice(0, count)
      .map((rung) => exerciseOf(stretchExercise(on, rungStretch(rung))));
  return { phrases: rungs("phrase", 2), strain: rungs("strain", 1) };
}
