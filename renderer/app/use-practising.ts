import type { Exercise } from "../../core/exercise/exercise.ts";
import type { Abilities } from "../../core/instrument/reed-actions.ts";
import type { PlannedSet } from "../../core/progress/repertoire/repertoire-dance.ts";
import { PracticeSession } from "../practice/practice-session.ts";
import type { Settings } from "../store/settings-store.ts";
import type { OpenTune, TuneRules } from "../tunes/tune-view.ts";
import type { HowToPlay } from "./how-to-play.ts";
import { phraseBeside } from "./phrase-beside.ts";
import type { Room } from "./room.ts";
import type { Services } from "./services.ts";
import type { useHistory } from "./use-history.ts";
import type { useOpening } from "./use-opening.ts";
import { useSetRun } from "./use-set-run.ts";

interface PractisingOptions {
  readonly services: Services;
  readonly settings: Settings;
  readonly delayOf: ConstructorParameters<typeof PracticeSession>[2]["delayOf"];
  readonly history: Pick<ReturnType<typeof useHistory>, "open">;
  readonly openTune: (id: string) => Promise<OpenTune | null>;
  readonly abilities: Abilities;
  readonly rules: TuneRules;
  readonly opening: ReturnType<typeof useOpening>["opening"];
  readonly onEnter: (room: Room) => void;
  readonly onTune: (id: string) => void;
}

const OPENING_ATTEMPT = "Opening the attempt …";

/** Everything that leads to the sheet: an exercise, an attempt of the history, a set of tunes; and where it leads back to. */
export function usePractising(options: PractisingOptions) {
  const { services, settings, delayOf, history, opening, onEnter, onTune } = options;
  const tuneWorld = { ...options, work: services.tuneWork };
  const setRun = useSetRun(tuneWorld);
  const practise = (exercise: Exercise, held: string | null = null, how: Partial<HowToPlay> = {}) =>
    onEnter({
      kind: "practice",
      session: new PracticeSession(exercise, services, {
        ...settings,
        ...(delayOf === undefined ? {} : { delayOf }),
        afterRound: () => setRun.after(exercise, practise) ?? null,
        ...how,
      }),
      held,
    });
  return {
    practise,
    /** Another exercise than those of the set that was being practised. */
    practiseApart: (exercise: Exercise) => {
      setRun.end();
      practise(exercise);
    },
    endSet: setRun.end,
    demonstrate: (exercise: Exercise) => {
      const session = new PracticeSession(exercise, services, settings);
      onEnter({ kind: "practice", session, held: null });
      void session.simulate();
    },
    goOn: (id: string) =>
      void opening(OPENING_ATTEMPT, async () => {
        const entry = await history.open(id);
        if (entry !== null) practise(entry.exercise, null, { way: entry.attempt.way });
      }),
    reopen: (id: string) =>
      void opening(OPENING_ATTEMPT, async () => {
        const entry = await history.open(id);
        if (entry === null) return;
        const { way } = entry.attempt;
        const session = new PracticeSession(entry.exercise, services, { ...settings, way });
        session.reopen(id, entry.attempt, entry.take, entry.source);
        onEnter({ kind: "practice", session, held: null });
      }),
    practiseSet: (set: PlannedSet, listId: string) =>
      void opening("Laying the set under the breath …", async () => {
        const first = await setRun.begin(set, listId);
        if (first === null) throw new Error("none of these tunes can be played");
        practise(first);
      }),
    /** The phrase beside in the tune, or the tune beside in the set. */
    beside: async (exercise: Exercise, step: 1 | -1) => {
      const inSet = await setRun.beside(exercise, step);
      return inSet === undefined ? phraseBeside(exercise, step, tuneWorld) : inSet;
    },
    leave: (exercise: Exercise) => {
      const { tuneId } = exercise.parameters;
      const listId = setRun.listOf(exercise);
      if (listId !== null) onEnter({ kind: "set list", id: listId });
      else if (exercise.kind === "tune" && typeof tuneId === "string") onTune(tuneId);
      else onEnter({ kind: "drills" });
    },
  };
}
