import { dayNumber, type PracticeDay } from "../practice-day.ts";
import { candidatesOf } from "./plan-candidates.ts";
import { filledSlots } from "./plan-minutes.ts";
import { withRests } from "./plan-rests.ts";
import type { Plan, PlanInput } from "./plan-shape.ts";

export const LEAST_MINUTES = 5;
export const MOST_MINUTES = 120;

/** The seed of a day: the same all day, another tomorrow. */
export const seedOfDay = (day: PracticeDay): number => dayNumber(day);

/**
 * The plan of a day: long tones to warm up, what is due, the two weakest pairs as breath drills, something new, a whole tune,
 * and rests between. With little time the lines that matter most stay. The same input gives the same plan.
 *
 * @throws RangeError for minutes beyond 5 to 120
 */
export function planDay(input: PlanInput): Plan {
  const { minutes, day } = input;
  if (!Number.isInteger(minutes) || minutes < LEAST_MINUTES || minutes > MOST_MINUTES)
    throw new RangeError(`a plan takes ${LEAST_MINUTES} to ${MOST_MINUTES} whole minutes, not ${minutes}`);
  const candidates = candidatesOf(input);
  const lines = withRests(minutes, (playing) => filledSlots(playing, candidates, input.known));
  return { day, minutes, lines };
}
