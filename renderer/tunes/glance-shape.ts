import type { Rung } from "../../core/exercise/tune-ladder.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { Tempo } from "../../core/tune/tempo.ts";
import type { TuneStudy } from "../store/tune-store.ts";
import type { TuneRules } from "./tune-view.ts";

/** A tune of the list that is looked at. */
export interface GlanceAsk {
  readonly id: string;
  readonly abc: string;
  readonly study: TuneStudy;
}

/** What tunes are laid on, and how. */
export interface GlanceWorld {
  readonly harps: readonly Harp[];
  readonly abilities: Abilities;
  readonly rules: TuneRules;
}

/** What the list says of a tune that only laying it on the harps can tell. */
export interface TuneGlance {
  /** "D harp". */
  readonly harp: string;
  /** "1st position"; empty where the tune has no home note. */
  readonly position: string;
  readonly bent: number;
  readonly missing: number;
  /** "hole jump" and "bar 7"; null where nothing is hard. */
  readonly spot: { readonly what: string; readonly where: string } | null;
  readonly ladder: readonly Rung[];
  readonly dance: Tempo;
}
