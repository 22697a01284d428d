import traditional from "../../assets/tunes/traditional.abc?raw";
import band from "../../assets/tunes/village-band.abc?raw";
import type { ArchiveRecord } from "../../core/archive/archive-format.ts";
import type { DrillSetting } from "../../core/exercise/drill-spec.ts";
import { countInSeconds, type Exercise, onsetOf, targetMidi } from "../../core/exercise/exercise.ts";
import { gaussian, seededRandom } from "../../core/exercise/seeded-random.ts";
import { planTune } from "../../core/exercise/tune-plan.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { bpm } from "../../core/units.ts";
import { answerProgress } from "../../renderer/app/progress-answers.ts";
import type { ProgressWork } from "../../renderer/app/progress-work.ts";
import type { StoredEntry } from "../../renderer/store/history-entry.ts";
import { MemoryHistoryStore } from "../../renderer/store/memory-history-store.ts";
import { MemoryProgressStore } from "../../renderer/store/memory-progress-store.ts";
import { FIRST_SETTINGS } from "../../renderer/store/settings-store.ts";
import type { KeptTune, TuneStudy } from "../../renderer/store/tune-store.ts";
import type { GlanceWorld } from "../../renderer/tunes/glance-shape.ts";
import { kept } from "../../renderer/tunes/import-tunes.ts";
import { readText } from "../../renderer/tunes/read-text.ts";
import { stepsOf } from "../../renderer/tunes/steps-ask.ts";
import type { StepsOfTune } from "../../renderer/tunes/tune-messages.ts";
import {
  type OpenTune,
  planSetting,
  rulesOf,
  rungStretch,
  stretchExercise,
} from "../../renderer/tunes/tune-view.ts";
import { exerciseOf } from "../support/drills.ts";
import { harp } from "../support/harps.ts";
import { heardNote, listeningOf } from "../support/listenings.ts";

/** The player's own harps. */
export const HARPS = [harp("G"), harp("D")];
export const RULES = rulesOf(FIRST_SETTINGS);
const DAY_MS = 86_400_000;

/** Two tunes of the village band's own, and a few that nobody can play at. */
const books = [traditional, band].map((text) => readText(text).tunes);
export const TUNES: readonly KeptTune[] = books.flatMap((tunes) =>
  tunes.map(({ tune, abc }) => kept(tune, abc, "comes along")),
);

export function opened(id: string, study: TuneStudy = { id }): OpenTune | null {
  const line = TUNES.find((tune) => tune.id === id);
  const [read] = line === undefined ? [] : readText(line.abc).tunes;
  return read === undefined ? null : { id, study, ...read };
}

/** Exercises of some rungs of the first two tunes of the band, and of drills on two harps. */
function exercises(): readonly Exercise[] {
  const tunes = (books[1] ?? []).slice(0, 2).flatMap(({ tune, abc }): readonly Exercise[] => {
    const { id } = kept(tune, abc, "");
    const open = opened(id);
    if (open === null) throw new Error("a tune of our own can be read");
    const plan = planTune(planSetting(open, HARPS, PLAIN_AND_BENDS, RULES));
    const played = plan.ladder.filter(({ kind }) => kind !== "listen");
    return [...played.slice(0, 2), ...played.slice(-2)].map((rung) => {
      const made = stretchExercise(open, plan, PLAIN_AND_BENDS, rungStretch(rung));
      if (made.kind === "impossible") throw new Error(made.reason);
      return made.exercise;
    });
  });
  const onD = { harp: harp("D"), position: 1, mode: "major" } as const;
  return [...tunes, exerciseOf(), exerciseOf(onD), exerciseOf({ octaves: 2 })];
}

const EXERCISES = exercises();

/** A history of so many attempts over two months and a half, at tunes and drills, as well and as fast as it came out. */
export function randomEntries(seed: number, count: number, lastEpochMs: number): readonly StoredEntry[] {
  const random = seededRandom(seed);
  const normal = gaussian(random);
  return Array.from({ length: count }, (_, n) => {
    const one = EXERCISES[Math.floor(random() * EXERCISES.length)];
    if (one === undefined) throw new RangeError("no exercises");
    const slower = random() < 0.2 ? 0.8 : 1;
    const exercise = { ...one, tempo: { ...one.tempo, bpm: bpm(Math.round(one.tempo.bpm * slower)) } };
    const lost = random() < 0.6 ? 0 : 0.3;
    const heard = exercise.notes
      .filter(() => random() >= lost)
      .map((note) =>
        heardNote(
          countInSeconds(exercise) + onsetOf(exercise, note) + 0.01 * normal(),
          targetMidi(exercise, note) + (random() < 0.2 ? 0.4 : 0.02) * normal(),
        ),
      );
    return {
      id: `attempt ${seed}-${String(n).padStart(3, "0")}`,
      atEpochMs: Math.round(lastEpochMs - 75 * DAY_MS * random() ** 2),
      zone: "Europe/Dublin",
      source: "microphone",
      exercise,
      attempt: scoreTake(exercise, listeningOf(heard)),
      take: null,
    };
  });
}

/** What the window's plan is made from, in memory. */
export async function worldOf(
  entries: readonly StoredEntry[],
  studies: readonly TuneStudy[],
  nowEpochMs: number,
) {
  const history = new MemoryHistoryStore(() => "");
  await history.keepMany(entries);
  const progress = new MemoryProgressStore(history);
  const exerciseOfAttempt = async (id: string) => (await history.open(id))?.exercise ?? null;
  const progressWork: ProgressWork = {
    known: () => null,
    ask: (kind, ask, onOutcome) => {
      const sources = { progress, exerciseOf: exerciseOfAttempt };
      void answerProgress(sources, kind, ask).then((answer) => onOutcome({ kind: "read", answer }));
      return () => {};
    },
  };
  return {
    history,
    progress,
    progressWork,
    tunes: { studies: async () => studies },
    listed: async () => TUNES,
    tuneText: async (id: string) => TUNES.find((tune) => tune.id === id) ?? null,
    work: {
      steps: async (asks: readonly StepsOfTune[], world: GlanceWorld) =>
        new Map(
          asks.flatMap((ask) => {
            const steps = stepsOf(ask, world);
            return steps === null ? [] : [[ask.id, steps] as const];
          }),
        ),
    },
    harps: HARPS,
    abilities: PLAIN_AND_BENDS,
    rules: RULES,
    nowEpochMs: () => nowEpochMs,
  };
}

/** The same as an archive holds it. */
export function recordsOf(
  entries: readonly StoredEntry[],
  studies: readonly TuneStudy[],
): readonly ArchiveRecord[] {
  const byId = (one: { readonly id: string }, other: { readonly id: string }) => (one.id < other.id ? -1 : 1);
  return [
    ...HARPS.map((own, n) => ({ kind: "harp" as const, id: `harp ${n}`, value: { harp: own, note: "" } })),
    ...[...studies].sort(byId).map(({ id, ...value }) => ({ kind: "study" as const, id, value })),
    ...[...entries].sort(byId).map(({ id, take: _, ...value }) => ({ kind: "attempt" as const, id, value })),
  ];
}

/** As the command sets drills: by the exercise that was played last. */
export function drillsOf(entries: readonly StoredEntry[]): DrillSetting {
  const [latest] = [...entries].sort((one, other) => other.atEpochMs - one.atEpochMs);
  if (latest === undefined) throw new RangeError("nothing was played");
  const { harp: own, position, mode, tempo, countInBeats } = latest.exercise;
  return { harp: own, position, mode, tempo, countInBeats, abilities: PLAIN_AND_BENDS };
}
