import type { Harp } from "../instrument/harp.ts";
import type { Abilities, ReedAction } from "../instrument/reed-actions.ts";
import type { Weights } from "../path/weights.ts";
import { PHRASE_BARS, type Phrase, type PhraseBars } from "../tune/phrases.ts";
import type { Tempo } from "../tune/tempo.ts";
import type { Metre, Tune } from "../tune/tune.ts";
import type { TuneLine } from "../tune/tune-list.ts";
import { bpm } from "../units.ts";
import { ownTempo } from "./stretch-exercise.ts";
import { beatOf, tempoIn } from "./tune-exercise.ts";
import type { LadderRule } from "./tune-ladder.ts";
import type { TunePlanSetting } from "./tune-plan.ts";

/** What the player has set for how a tune is laid. Everything may be absent: then the program's own choice holds. */
export interface LaidStudy {
  /** Reed actions the player has fixed, by number of the written note. */
  readonly pins?: readonly { readonly written: number; readonly action: ReedAction }[];
  /** Phrases the player has changed. */
  readonly phrases?: readonly Phrase[];
  readonly phraseBars?: number;
  /** Dance tempo the ladder leads to, in the tune's counted note value. */
  readonly danceBpm?: number;
  /** The harp it is learned on, whole. */
  readonly harp?: Harp;
  /** Octaves the tune is moved up on this harp. */
  readonly octaves?: number;
  /** Whether the path evens out the breath. */
  readonly even?: boolean;
}

/** What holds for every tune. */
export interface TuneRules {
  readonly ladder: LadderRule;
  readonly weights: Weights;
}

/** Bars of a phrase where nothing is chosen. */
const USUAL_PHRASE_BARS: PhraseBars = 4;

export const phraseBarsOf = ({ phraseBars }: LaidStudy): PhraseBars =>
  PHRASE_BARS.find((bars) => bars === phraseBars) ?? USUAL_PHRASE_BARS;

/** The tempo the ladder leads to, in the note value the metre is felt in. */
export function danceTempoOf(tune: Tune, { danceBpm }: LaidStudy): Tempo {
  const own = ownTempo(tune);
  return danceBpm === undefined ? own : { ...own, bpm: bpm(danceBpm) };
}

/** The same without opening the tune; null where the list does not know it. */
export function danceTempoOfLine(
  { tempo, metre }: Pick<TuneLine, "tempo" | "metre">,
  study: LaidStudy | undefined,
): Tempo | null {
  if (tempo === undefined) return null;
  const counted = tempoIn(tempo, beatOf(metreOf(metre), tempo));
  return { ...counted, bpm: bpm(study?.danceBpm ?? Math.round(counted.bpm)) };
}

/** Reads "6/8"; null for a free metre. */
function metreOf(text: string): Metre | null {
  const [beats, unit] = text.split("/").map(Number);
  return beats === undefined || unit === undefined || !(beats > 0 && unit > 0) ? null : { beats, unit };
}

/** What the path finder is asked: the harp chosen for the tune, else the best of those there are. */
export function studySetting(
  tune: Tune,
  study: LaidStudy,
  world: { readonly harps: readonly Harp[]; readonly abilities: Abilities; readonly rules: TuneRules },
): TunePlanSetting {
  const { ladder, weights } = world.rules;
  return {
    tune,
    harps: study.harp === undefined ? world.harps : [study.harp],
    abilities: world.abilities,
    weights,
    tempo: danceTempoOf(tune, study),
    octaves: study.octaves ?? null,
    pins: study.pins ?? [],
    even: study.even ?? false,
    phraseBars: phraseBarsOf(study),
    phrases: study.phrases === undefined || study.phrases.length === 0 ? null : study.phrases,
    rule: ladder,
  };
}
