import { planTune, type TunePlan } from "../../core/exercise/tune-plan.ts";
import { harpName } from "../../core/instrument/harp.ts";
import { positionName, positionOfHome } from "../../core/instrument/positions.ts";
import type { DifficultSpot } from "../../core/path/difficult-spots.ts";
import { pitchClassOfName } from "../../core/pitch/note-names.ts";
import type { GlanceAsk, GlanceWorld, TuneGlance } from "./glance-shape.ts";
import { readText } from "./read-text.ts";
import { danceTempo, type OpenTune, planSetting } from "./tune-view.ts";

/** Null where the text cannot be read. */
export function glanceAt({ id, abc, study }: GlanceAsk, world: GlanceWorld): TuneGlance | null {
  const [read] = readText(abc, study.voice ?? null).tunes;
  if (read === undefined) return null;
  const open: OpenTune = { id, tune: read.tune, abc, voices: read.voices, study };
  const plan = planTune(planSetting(open, world.harps, world.abilities, world.rules));
  const tonic = pitchClassOfName(read.tune.key.tonic);
  return {
    harp: harpName(plan.harp),
    position: tonic === null ? "" : `${positionName(positionOfHome(plan.harp, tonic))} position`,
    bent: bentNotes(plan),
    missing: plan.path.missing.length,
    spot: plan.spots[0] === undefined ? null : spotInShort(plan.spots[0]),
    ladder: plan.ladder,
    dance: danceTempo(open),
  };
}

/** In playing order, overblows too. */
const bentNotes = ({ path }: TunePlan) =>
  path.actions.filter((action) => action !== null && action.technique !== "plain").length;

const SPOT_WORDS: Readonly<Record<DifficultSpot["kind"], string>> = {
  jump: "hole jump",
  "turned step": "step with breath change",
  "turns in one hole": "breath turned in one hole",
  bend: "bend",
  overblow: "overblow",
};

const spotInShort = ({ kind, where }: DifficultSpot) => ({ what: SPOT_WORDS[kind], where });
