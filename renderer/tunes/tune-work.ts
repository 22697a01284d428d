import type { TunePlan, TunePlanSetting } from "../../core/exercise/tune-plan.ts";
import type { TuneSteps } from "../../core/exercise/tune-steps.ts";
import type { Harp } from "../../core/instrument/harp.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { Fit } from "../../core/path/fit.ts";
import type { HarpsToOwn } from "../../core/path/harps-to-own.ts";
import type { LaidTune } from "../../core/progress/repertoire/repertoire-lay.ts";
import { LIMITS } from "../../core/reading/limits.ts";
import type { TuneChoices } from "../../core/tune/read-tunes.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { oneJob } from "../jobs/one-job.ts";
import type { GlanceAsk, GlanceWorld, TuneGlance } from "./glance-shape.ts";
import type { ReadMidiPreview } from "./midi-preview.ts";
import type { ReadScorePreview } from "./score-preview.ts";
import TuneWorker from "./tune.worker.ts?worker";
import type { LayAsk, OwnWish, ReadText, StepsOfTune, TuneJob, TuneReport } from "./tune-messages.ts";

export interface ImportProgress {
  readonly done: number;
  readonly of: number;
}

type Some = Extract<TuneReport, { kind: "some" }>;

/** Work on tunes, off the window's thread. What is aborted rejects with an AbortError. */
export interface TuneWork {
  /** @param voice name of the voice to read; the first, with a remark, where it is not there */
  read(text: string, signal?: AbortSignal, voice?: string): Promise<ReadText>;
  plan(setting: TunePlanSetting, signal?: AbortSignal): Promise<TunePlan>;
  /** The best few harps for a tune. */
  fits(
    tune: Tune,
    harps: readonly Harp[],
    abilities: Abilities,
    signal?: AbortSignal,
  ): Promise<readonly Fit[]>;
  /** The fewest harps for a repertoire, and how many tunes it has. */
  own(
    wish: OwnWish,
    onProgress: (progress: ImportProgress) => void,
    signal: AbortSignal,
  ): Promise<{ readonly harps: HarpsToOwn; readonly tunes: number }>;
  /** What the list says of tunes, told one by one; null where a text cannot be read. */
  glances(
    asks: readonly GlanceAsk[],
    world: GlanceWorld,
    onGlance: (id: string, glance: TuneGlance | null) => void,
    signal: AbortSignal,
  ): Promise<void>;
  /** The steps of tunes, by their ids; without those that cannot be read. */
  steps(
    asks: readonly StepsOfTune[],
    world: GlanceWorld,
    signal: AbortSignal,
  ): Promise<ReadonlyMap<string, TuneSteps>>;
  /** How tunes of a set list lie on the harps, told one by one; null where a text cannot be read. */
  lay(
    asks: readonly LayAsk[],
    world: GlanceWorld,
    onLaid: (key: string, laid: LaidTune | null) => void,
    signal: AbortSignal,
  ): Promise<void>;
  /** @param onSome told of tunes as they are read; the next are read once it has resolved, so that nothing piles up */
  importFile(
    name: string,
    bytes: Uint8Array,
    choices: TuneChoices,
    onSome: (some: Some) => Promise<void>,
    signal: AbortSignal,
  ): Promise<void>;
  /** What a MIDI file would become with these choices. */
  midi(bytes: Uint8Array, choices: TuneChoices, signal: AbortSignal): Promise<ReadMidiPreview>;
  /** What a MusicXML file would become with these choices. */
  score(bytes: Uint8Array, choices: TuneChoices, signal?: AbortSignal): Promise<ReadScorePreview>;
}

export function createTuneWork(): TuneWork {
  return {
    read: async (text, signal, voice) => {
      const report = await answer({ kind: "read", text, voice: voice ?? null }, signal);
      if (report.kind !== "read") throw new Error(`the reader answered "${report.kind}"`);
      return report.read;
    },
    plan: async (setting, signal) => {
      const report = await answer({ kind: "plan", setting }, signal);
      if (report.kind !== "planned") throw new Error(`the path finder answered "${report.kind}"`);
      return report.plan;
    },
    fits: async (tune, harps, abilities, signal) => {
      const report = await answer({ kind: "fits", tune, harps, abilities }, signal);
      if (report.kind !== "fitted") throw new Error(`the fitter answered "${report.kind}"`);
      return report.fits;
    },
    own: async (wish, onProgress, signal) => {
      const report = await answer({ kind: "own", wish }, signal, (progress) => {
        if (progress.kind === "progress") onProgress(progress);
      });
      if (report.kind !== "owned") throw new Error(`the fitter answered "${report.kind}"`);
      return { harps: report.harps, tunes: report.tunes };
    },
    glances: async (asks, world, onGlance, signal) => {
      await answer({ kind: "glance", asks, world }, signal, (report) => {
        if (report.kind === "glanced") onGlance(report.id, report.glance);
      });
    },
    steps: async (asks, world, signal) => {
      const found = new Map<string, TuneSteps>();
      await answer({ kind: "steps", asks, world }, signal, (report) => {
        if (report.kind === "stepped" && report.steps !== null) found.set(report.id, report.steps);
      });
      return found;
    },
    lay: async (asks, world, onLaid, signal) => {
      await answer({ kind: "lay", asks, world }, signal, (report) => {
        if (report.kind === "laid") onLaid(report.key, report.laid);
      });
    },
    importFile,
    midi: async (bytes, choices, signal) => {
      const report = await answer({ kind: "midi", bytes, choices }, signal);
      if (report.kind !== "midi") throw new Error(`the reader answered "${report.kind}"`);
      return report.read;
    },
    score: async (bytes, choices, signal) => {
      const report = await answer({ kind: "score", bytes, choices }, signal);
      if (report.kind !== "score") throw new Error(`the reader answered "${report.kind}"`);
      return report.read;
    },
  };
}

/** What a worker tells before it is done. */
type Meanwhile = Extract<TuneReport, { kind: "progress" | "glanced" | "stepped" | "laid" }>;

const isLast = (report: TuneReport): report is Exclude<TuneReport, Meanwhile> =>
  !["progress", "glanced", "stepped", "laid"].includes(report.kind);

/** Jobs that read what came from outside. */
const READING: readonly TuneJob["kind"][] = ["read", "midi", "score"];

const answer = (job: TuneJob, signal?: AbortSignal, onMeanwhile?: (report: Meanwhile) => void) =>
  oneJob<TuneReport, Exclude<TuneReport, Meanwhile>>(() => new TuneWorker(), job, isLast, {
    signal,
    ...(READING.includes(job.kind) ? { silentSeconds: LIMITS.readingSeconds.most } : {}),
    ...(onMeanwhile === undefined ? {} : { onMeanwhile }),
  });

/** Whoever takes back what was kept must know of the last tunes too: it ends when all on their way to the store are there. */
async function importFile(
  name: string,
  bytes: Uint8Array,
  choices: TuneChoices,
  onSome: (some: Some) => Promise<void>,
  signal: AbortSignal,
): Promise<void> {
  let keeping: Promise<void> = Promise.resolve();
  const cannotKeep = new AbortController();
  const keep = (some: Some) => {
    keeping = keeping.then(() => (signal.aborted ? undefined : onSome(some)));
    keeping.catch(() => cannotKeep.abort());
  };
  const trouble = await oneJob<TuneReport, Extract<TuneReport, { kind: "all" }>>(
    () => new TuneWorker(),
    { kind: "import", name, bytes, choices } satisfies TuneJob,
    (report) => report.kind === "all",
    {
      signal: AbortSignal.any([signal, cannotKeep.signal]),
      silentSeconds: LIMITS.readingSeconds.most,
      onMeanwhile: (report) => report.kind === "some" && keep(report),
    },
  ).then(
    () => null,
    (error: unknown) => ({ error }),
  );
  await keeping;
  if (trouble !== null) throw trouble.error;
}
