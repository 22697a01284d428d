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

  /** A hole put back as it was on the start, and the best of all others tuned instead. */
  private bestExchange(
    loaded: LoadedLayout,
    holes: HoleChoice[],
    whole: WholeLimits,
    aim: Aim,
    before: number,
  ): Step | null {
    let best: Step | null = null;
    let value = before - TIE;
    for (const [hole, its] of this.choices.entries()) {
      const now = holes[hole];
      const [back] = its;
      if (now === undefined || back === undefined || now.changed === 0) continue;
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
      holes[hole] = now;
      loaded.tune(hole, now);
    }
    return best;
  }
}

type Tuned = readonly [hole: number, choice: HoleChoice];
type Step = readonly [Tuned, ...Tuned[]];
