import { type Evidence, FIGURES, type Figure } from "./figures.ts";
import { fixed, table } from "./numbers.ts";

export interface Reached {
  readonly figure: Figure;
  /** One for each seed; NaN where not measured. */
  readonly values: readonly number[];
  readonly verdict: string;
}

/** Every figure with what was reached on each seed. */
export function reachedFigures(evidence: readonly Evidence[]): Reached[] {
  return FIGURES.map((figure) => {
    const values = evidence.map((one) => figure.read(one));
    return { figure, values, verdict: verdictOf(figure, values) };
  });
}

/** A figure is met when it is on every seed; otherwise the worst says by how much it is not. */
function verdictOf({ sense, limit, goal, unit, decimals }: Figure, values: readonly number[]): string {
  if (values.length === 0 || values.some(Number.isNaN)) return "not measured";
  const worst = sense === "<=" ? Math.max(...values) : Math.min(...values);
  const reaches = (mark: number) =>
    sense === "<=" ? worst <= mark : sense === ">" ? worst > mark : worst >= mark;
  if (!reaches(limit)) return `short by ${fixed(Math.abs(worst - limit), decimals)} ${unit}`;
  if (goal === null) return "met";
  return reaches(goal) ? "met, goal too" : `met; goal ${goal} not`;
}

export function figureTable(reached: readonly Reached[], seeds: readonly number[]): string {
  return table(
    ["figure", "to reach", ...seeds.map((seed) => `reached, seed ${seed}`), ""],
    reached.map(({ figure, values, verdict }) => {
      const { name, sense, limit, goal, unit, decimals } = figure;
      const aim = `${sense} ${limit}${goal === null ? "" : ` (goal ${goal})`} ${unit}`;
      return [name, aim, ...values.map((value) => fixed(value, decimals)), verdict];
    }),
  );
}
