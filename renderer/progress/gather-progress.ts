import type { Exercise } from "../../core/exercise/exercise.ts";
import { daysFromTo, type PracticeDay, practiceDay } from "../../core/progress/practice-day.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import type { DayOfPractice, ProgressView } from "./progress-view.ts";

/** An attempt as it was kept. */
interface KeptAttempt {
  readonly id: string;
  readonly atEpochMs: number;
  /** Where the player is: IANA name of the time zone. */
  readonly zone: string;
  readonly exercise: Exercise;
  readonly attempt: Pick<Attempt, "take">;
}

/** Gathers attempts one by one, in any order, without holding on to their marks. */
export class ProgressGatherer {
  private readonly days = new Map<PracticeDay, DayOfPractice>();
  private readonly techniques = new Map<string, readonly string[]>();

  add({ id, atEpochMs, zone, exercise, attempt }: KeptAttempt): void {
    this.techniques.set(id, [...new Set(exercise.notes.map(({ action }) => action.technique))]);
    const day = practiceDay(atEpochMs, zone);
    const before = this.days.get(day) ?? { day, practisedMs: 0, attempts: 0 };
    const practisedMs = before.practisedMs + Math.round(1000 * attempt.take.durationSeconds);
    this.days.set(day, { day, practisedMs, attempts: before.attempts + 1 });
  }

  view(): ProgressView {
    const days = [...this.days.values()].sort((one, other) => daysFromTo(other.day, one.day));
    return { days, techniques: this.techniques };
  }
}
