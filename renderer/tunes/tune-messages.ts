import type { TunePlan, TunePlanSetting } from "../../core/exercise/tune-plan.ts";
import type { TuneSteps } from "../../core/exercise/tune-steps.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { Fit } from "../../core/path/fit.ts";
import type { HarpsToOwn } from "../../core/path/harps-to-own.ts";
import type { LaidTune } from "../../core/progress/repertoire/repertoire-lay.ts";
import type { TuneChoices } from "../../core/tune/read-tunes.ts";
import type { BadTune, Tune } from "../../core/tune/tune.ts";
import type { KeptTune, TuneStudy } from "../store/tune-store.ts";
import type { GlanceAsk, GlanceWorld, TuneGlance } from "./glance-shape.ts";
import type { ReadMidiPreview } from "./midi-preview.ts";
import type { ReadScorePreview } from "./score-preview.ts";

/** Work on tunes that is done off the window's thread. */
export type TuneJob =
  /** All tunes of a text, for the book that comes along and what is being written. */
  | { readonly kind: "read"; readonly text: string; readonly voice: string | null }
  | { readonly kind: "plan"; readonly setting: TunePlanSetting }
  /** How a tune lies on each harp, the best first. */
  | {
      readonly kind: "fits";
      readonly tune: Tune;
      readonly harps: readonly Harp[];
      readonly abilities: Abilities;
    }
  /** Which harps play a repertoire. */
  | { readonly kind: "own"; readonly wish: OwnWish }
  /** A file of any kind that holds tunes. */
  | {
      readonly kind: "import";
      readonly name: string;
      readonly bytes: Uint8Array;
      readonly choices: TuneChoices;
    }
  /** What the list says of tunes in sight. */
  | { readonly kind: "glance"; readonly asks: readonly GlanceAsk[]; readonly world: GlanceWorld }
  /** The steps of tunes being learned, for the plan of the day. */
  | { readonly kind: "steps"; readonly asks: readonly StepsOfTune[]; readonly world: GlanceWorld }
  /** How long tunes of a set list are and on which harps they lie. */
  | { readonly kind: "lay"; readonly asks: readonly LayAsk[]; readonly world: GlanceWorld }
  /** What a MIDI file would become. */
  | { readonly kind: "midi"; readonly bytes: Uint8Array; readonly choices: TuneChoices }
  /** What a MusicXML file would become. */
  | { readonly kind: "score"; readonly bytes: Uint8Array; readonly choices: TuneChoices };

/** A repertoire and the harps that come into question for it. */
export interface OwnWish {
  /** ABC of each tune. */
  readonly texts: readonly string[];
  readonly harps: readonly Harp[];
  readonly owned: readonly Harp[];
  readonly abilities: Abilities;
  /** Share of the notes that may have to be bent, 0 to 1. */
  readonly mostBent: number;
}

/** A tune of a set list that is laid on the harps. */
export interface LayAsk {
  /** What it is asked as: the same where the answer is. */
  readonly key: string;
  readonly abc: string;
  readonly study: TuneStudy | null;
  /** The harp for the evening; null for the one it is learned on, or the best. */
  readonly harp: Harp | null;
}

/** A tune whose steps are asked. */
export interface StepsOfTune extends GlanceAsk {
  /** Whether it is also asked how the tune lies on the harps, which takes longer. */
  readonly isFitted: boolean;
}

/** What was read of a text. */
export interface ReadText {
  readonly tunes: readonly {
    readonly tune: Tune;
    readonly abc: string;
    /** Names of its voices; one of them was read. */
    readonly voices: readonly string[];
  }[];
  readonly bad: readonly BadTune[];
  /** Why nothing could be read at all; null where something could. */
  readonly unreadable: string | null;
}

/** A tune of a file that was left out, in words: "tune 12, line 340, column 5: ...". */
export type LeftOut = string;

export type TuneReport =
  | { readonly kind: "read"; readonly read: ReadText }
  | { readonly kind: "planned"; readonly plan: TunePlan }
  | { readonly kind: "fitted"; readonly fits: readonly Fit[] }
  | { readonly kind: "progress"; readonly done: number; readonly of: number }
  | { readonly kind: "owned"; readonly harps: HarpsToOwn; readonly tunes: number }
  /** Some tunes of a file, as they are read. */
  | {
      readonly kind: "some";
      readonly tunes: readonly KeptTune[];
      readonly leftOut: readonly LeftOut[];
      readonly done: number;
      readonly of: number;
    }
  | { readonly kind: "glanced"; readonly id: string; readonly glance: TuneGlance | null }
  /** `laid` is null where the text cannot be read. */
  | { readonly kind: "laid"; readonly key: string; readonly laid: LaidTune | null }
  /** `steps` is null where the text cannot be read. */
  | { readonly kind: "stepped"; readonly id: string; readonly steps: TuneSteps | null }
  | { readonly kind: "all" }
  | { readonly kind: "midi"; readonly read: ReadMidiPreview }
  | { readonly kind: "score"; readonly read: ReadScorePreview }
  | { readonly kind: "failed"; readonly reason: string };
