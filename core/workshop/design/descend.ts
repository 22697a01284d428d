import { changedOf, isAllowed, type WholeLimits } from "./allowed.ts";
import type { HoleChoice } from "./hole-choices.ts";
import { type Efforts, type LoadCost, LoadedLayout } from "./load-cost.ts";
import type { TuneLoad } from "./tune-load.ts";

/** A layout by its holes, and what the load costs on it. */
export interface Candidate {
  readonly holes: readonly HoleChoice[];
  readonly cost: LoadCost;
}

/** What is sought: least effort, and so many efforts more for each note that is not plain, and for each missing one. */
export interface Aim {
  readonly notPlainEffort: number;
  readonly missingEffort: number;
}

export const worth = ({ effort, notPlain, missing }: LoadCost, aim: Aim): number =>
  effort + aim.notPlainEffort * notPlain + aim.missingEffort * missing;

/** Costs differ by rounding; what gains less than this gains nothing. */
const TIE = 1e-6;

/** Walks downhill from layout to layout, and counts what it tries. */
export class Descent {
  tries = 0;

  constructor(
    private readonly load: TuneLoad,
    private readonly efforts: Efforts,
    /** For each hole, unchanged first. */
    private readonly choices: readonly (readonly HoleChoice[])[],
  ) {}

  /**
   * The layout no single hole, and no hole together with one put back as it was, makes better; a step a walk, so that it can be
   * stopped.
   *
   * @param from allowed
   */
  *down(from: readonly HoleChoice[], whole: WholeLimits, aim: Aim): Generator<void, Candidate> {
    const holes = [...from];
    const loaded = new LoadedLayout(this.load, this.efforts, holes);
    for (;;) {
      const before = worth(loaded.cost, aim);
      const step =
        this.bestSingle(loaded, holes, whole, aim, before) ??
        this.bestExchange(loaded, holes, whole, aim, before);
      if (step === null) return { holes, cost: loaded.cost };
      for (const [hole, choice] of step) {
        holes[hole] = choice;
        loaded.tune(hole, choice);
      }
      yield;
    }
  }

  private bestSingle(
    loaded: LoadedLayout,
    holes: HoleChoice[],
    whole: WholeLimits,
    aim: Aim,
    before: number,
  ): Step | null {
    let best: Step | null = null;
    let value = before - TIE;
    const changed = changedOf(holes);
    for (const [hole, its] of this.choices.entries()) {
      const now = holes[hole];
      if (now === undefined) continue;
      for (const choice of its) {
        if (choice === now || changed - now.changed + choice.changed > whole.mostChanged) continue;
        holes[hole] = choice;
        if (isAllowed(holes, whole)) {
          this.tries++;
          const found = worth(loaded.costWith(hole, choice), aim);
          if (found < value) {
            value = found;
            best = [[hole, choice]];
          }
        }
        holes[hole] = now;
      }
    }
    return best;
  }

  /** A hole put back, one reed of it or both, and the best of all others tuned instead. */
  private bestExchange(
    loaded: LoadedLayout,
    holes: HoleChoice[],
    whole: WholeLimits,
    aim: Aim,
    before: number,
  ): Step | null {
    let best: Step | null = null;
    let value = before - TIE;
    for (const [hole, now] of [...holes].entries()) {
      for (const back of this.putBack(hole, now)) {
        holes[hole] = back;
        loaded.tune(hole, back);
        const step = this.bestSingle(loaded, holes, whole, aim, value);
        if (step !== null) {
          const [[other, choice]] = step;
          value = worth(loaded.costWith(other, choice), aim);
          best = [
            [hole, back],
            [other, choice],
          ];
        }
      }
      if (holes[hole] === now) continue;
      holes[hole] = now;
      loaded.tune(hole, now);
    }
    return best;
  }

  /** Ways of a hole with fewer changes than it has now: the reeds that stay changed as they are. */
  private putBack(hole: number, now: HoleChoice): readonly HoleChoice[] {
    return (this.choices[hole] ?? []).filter(
      ({ changed, blow, draw }) =>
        changed < now.changed && (changed === 0 || blow === now.blow || draw === now.draw),
    );
  }

  /**
   * A layout with more changes than are allowed with the least useful of them put back, one after the other; null where
   * what must be kept does not allow it.
   */
  trimmed(from: readonly HoleChoice[], whole: WholeLimits, aim: Aim): readonly HoleChoice[] | null {
    const holes = [...from];
    const loaded = new LoadedLayout(this.load, this.efforts, holes);
    while (changedOf(holes) > whole.mostChanged) {
      let best: Tuned | null = null;
      let value = Number.POSITIVE_INFINITY;
      for (const [hole, now] of [...holes].entries()) {
        for (const back of this.putBack(hole, now)) {
          holes[hole] = back;
          const found = isAllowed(holes, { ...whole, mostChanged: holes.length * 2 })
            ? worth(loaded.costWith(hole, back), aim)
            : value;
          if (found < value) {
            value = found;
            best = [hole, back];
          }
        }
        holes[hole] = now;
      }
      if (best === null) return null;
      holes[best[0]] = best[1];
      loaded.tune(...best);
    }
    return isAllowed(holes, whole) ? holes : null;
  }
}

type Tuned = readonly [hole: number, choice: HoleChoice];
type Step = readonly [Tuned, ...Tuned[]];
