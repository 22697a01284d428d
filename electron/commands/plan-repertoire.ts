import traditional from "../../assets/tunes/traditional.abc?raw";
import band from "../../assets/tunes/village-band.abc?raw";
import { tuneSteps } from "../../core/exercise/tune-steps.ts";
import { danceTempoOfLine, studySetting } from "../../core/exercise/tune-study.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import { type Abilities, PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import type { PlanTune } from "../../core/progress/plan/plan-shape.ts";
import {
  planTunes,
  type StandingTune,
  type SteppedTune,
  type StepsAsk,
} from "../../core/progress/plan/plan-tunes.ts";
import { tuneStanding } from "../../core/progress/repertoire/repertoire-status.ts";
import type { ItemRow } from "../../core/progress/revisit/revisit.ts";
import { readAbcTune, voicesOfAbc } from "../../core/tune/abc/read-abc.ts";
import { splitAbc } from "../../core/tune/abc/split-abc.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { tuneId } from "../../core/tune/tune-id.ts";
import { tuneLine } from "../../core/tune/tune-list.ts";
import type { Kept, KeptTune, Practised } from "./plan-archive.ts";

/** What the tunes of a plan are made from. */
export interface PlanRepertoire {
  readonly kept: Kept;
  readonly practised: Practised;
  readonly items: readonly ItemRow[];
  readonly seed: number;
  /** The one to go by where the player owns none. */
  readonly harp: Harp;
  readonly nowEpochMs: number;
}

const ABILITIES: Abilities = PLAIN_AND_BENDS;

/** The tunes of an archive and those that come along, as a plan needs them. */
export async function repertoireForPlan(of: PlanRepertoire): Promise<readonly PlanTune[]> {
  const { kept, practised, items, seed, harp, nowEpochMs } = of;
  const { rules, studies } = kept;
  const harps = kept.harps.length > 0 ? kept.harps : harpsToTry({ layouts: [harp.layout] });
  const tunes = new Map([...kept.tunes, ...comeAlong()]);
  const triesAt = (id: string) => practised.tries.get(id) ?? [];
  const standing = [...tunes].map(([id, line]): StandingTune => {
    const study = studies.get(id);
    const record = {
      tries: triesAt(id),
      heard: study?.heard?.length ?? 0,
      dance: danceTempoOfLine(line, study),
      own: study?.status ?? null,
    };
    return { tuneId: id, title: line.title, standing: tuneStanding(record, rules.ladder, nowEpochMs) };
  });
  const stepsOf = ({ tuneId: id, isFitted }: StepsAsk): readonly (readonly [string, SteppedTune])[] => {
    const study = studies.get(id) ?? {};
    const tune = tuneOf(tunes.get(id)?.abc ?? "", study.voice);
    if (tune === null) return [];
    const steps = tuneSteps(studySetting(tune, study, { harps, abilities: ABILITIES, rules }), isFitted);
    return [[id, { ...steps, tries: triesAt(id), heard: new Set(study.heard ?? []), rule: rules.ladder }]];
  };
  return planTunes(standing, items, seed, async (asks) => new Map(asks.flatMap(stepsOf)));
}

/** The tunes that are part of the program, by their ids. */
function comeAlong(): readonly (readonly [string, KeptTune])[] {
  return [traditional, band].flatMap((text) => {
    const pieces = splitAbc(text);
    if (pieces.kind === "unreadable") throw new Error(pieces.reason);
    return pieces.tunes.flatMap((piece) => {
      const read = readAbcTune(pieces.header, piece);
      return read.kind === "tune"
        ? [[tuneId(piece.text), { ...tuneLine(read.tune), abc: piece.text }] as const]
        : [];
    });
  });
}

/** The tune of a text in the voice that is learned, in the first where there is no such; null where it cannot be read. */
function tuneOf(abc: string, voice: string | undefined): Tune | null {
  const pieces = splitAbc(abc);
  const [piece] = pieces.kind === "unreadable" ? [] : pieces.tunes;
  if (pieces.kind === "unreadable" || piece === undefined) return null;
  const known = voice !== undefined && voicesOfAbc(pieces.header, piece).includes(voice);
  const read = readAbcTune(pieces.header, piece, known ? { voice } : {});
  return read.kind === "tune" ? read.tune : null;
}
