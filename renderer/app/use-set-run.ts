import { useRef } from "react";
import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { PlannedSet, PlannedTune } from "../../core/progress/repertoire/repertoire-dance.ts";
import type { AfterRound } from "../practice/practice-services.ts";
import type { TuneStudy } from "../store/tune-store.ts";
import { type OpenTune, planSetting, stretchExercise, type TuneRules } from "../tunes/tune-view.ts";
import type { TuneWork } from "../tunes/tune-work.ts";

interface RunWorld {
  readonly openTune: (id: string) => Promise<OpenTune | null>;
  readonly work: TuneWork;
  readonly abilities: Abilities;
  readonly rules: TuneRules;
}

/** The tunes of a set that are practised one after the other. */
interface SetRun {
  readonly listId: string;
  readonly tunes: readonly PlannedTune[];
  readonly at: number;
}

const OCTAVE = 12;
/** An exercise is played so often on end at most. */
const MOST_TIMES = 16;

/** Practising a set: its whole tunes in order, each on its harp, at its tempo and as often as it will be played. */
export function useSetRun(world: RunWorld) {
  const run = useRef<SetRun | null>(null);
  const holds = (exercise: Exercise): boolean => {
    const tuneId = run.current?.tunes[run.current.at]?.tune.tuneId;
    return tuneId !== undefined && exercise.kind === "tune" && exercise.parameters.tuneId === tuneId;
  };
  return {
    /** The first tune that can be played; null where none can. */
    begin: async ({ tunes }: PlannedSet, listId: string): Promise<Exercise | null> => {
      const found = await firstFrom(tunes, 0, 1, world);
      run.current = found === null ? null : { listId, tunes, at: found.at };
      return found?.exercise ?? null;
    },
    /** The tune after or before the one practised; null at the end, undefined where no set is practised. */
    beside: async (exercise: Exercise, step: 1 | -1): Promise<Exercise | null | undefined> => {
      const now = run.current;
      if (now === null || !holds(exercise)) return undefined;
      const found = await firstFrom(now.tunes, now.at + step, step, world);
      if (found !== null) run.current = { ...now, at: found.at };
      return found?.exercise ?? null;
    },
    /** What follows a round of it: the next tune, or nothing after the last; undefined where no set is practised. */
    after: (exercise: Exercise, practise: (next: Exercise) => void): AfterRound | undefined => {
      const now = run.current;
      if (now === null || !holds(exercise)) return undefined;
      if (now.tunes.slice(now.at + 1).every(({ place }) => place === null))
        return { words: "That was the last tune of the set.", begin: null };
      const goOn = async () => {
        const next = await firstFrom(now.tunes, now.at + 1, 1, world);
        // Left, or gone on by hand, meanwhile.
        if (next === null || run.current !== now) return;
        run.current = { ...now, at: next.at };
        practise(next.exercise);
      };
      return { words: "The next tune", begin: () => void goOn() };
    },
    /** The list whose set is practised with this exercise; null where none is. */
    listOf: (exercise: Exercise): string | null => (holds(exercise) ? (run.current?.listId ?? null) : null),
    end: () => {
      run.current = null;
    },
  };
}

async function firstFrom(tunes: readonly PlannedTune[], start: number, step: 1 | -1, world: RunWorld) {
  for (let at = start; at >= 0 && at < tunes.length; at += step) {
    const planned = tunes[at];
    const exercise = planned === undefined ? null : await wholeTune(planned, world);
    if (exercise !== null) return { at, exercise };
  }
  return null;
}

/** Null where the tune is no longer there or its harp sounds none of it. */
async function wholeTune(
  { tune, tempo, place }: PlannedTune,
  { openTune, work, abilities, rules }: RunWorld,
): Promise<Exercise | null> {
  if (tempo === null || place === null) return null;
  const found = await openTune(tune.tuneId);
  if (found === null) return null;
  const open = {
    ...found,
    study: forTheEvening(found.study, tune.harp !== undefined, place.shift, tempo.bpm),
  };
  const plan = await work.plan(planSetting(open, [place.harp], abilities, rules));
  const rung = plan.ladder.at(-1);
  if (rung === undefined) return null;
  const made = stretchExercise(open, plan, abilities, {
    words: rung.words,
    span: rung.span,
    tempoShare: 1,
    times: Math.min(MOST_TIMES, tune.times),
    rung: rung.id,
  });
  return made.kind === "exercise" ? made.exercise : null;
}

/** What is fixed for the harp a tune is learned on holds on that one alone. */
function forTheEvening(study: TuneStudy, onOther: boolean, shift: number, danceBpm: number): TuneStudy {
  if (!onOther) return { ...study, danceBpm };
  const { harp: _, pins: __, even: ___, ...rest } = study;
  return { ...rest, danceBpm, octaves: shift / OCTAVE };
}
