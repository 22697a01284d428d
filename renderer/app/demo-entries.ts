import { DEMO_DAYS, type DemoAttempt, demoDays } from "../../core/simulate/demo-days.ts";
import type { StoredEntry } from "../store/history-store.ts";
import { BOOKS } from "../tunes/books.ts";
import { tunesCalled } from "../tunes/come-along.ts";

/** What the made-up days need to know of here and now. */
export interface DemoAsk {
  readonly zone: string;
  readonly lastBeginsEpochMs: number;
}

/** Of the tunes that come along: two composed for the village band, and a traditional one. */
const TITLES = ["The Lamp over the Hall Door", "Chairs Against the Wall", "The Rakes of Mallow"];

/** The demonstration is always the same player: what it shows can be described. */
const SEED = 3;

/** Made-up days of practice, one at a time, `DEMO_DAYS` of them. */
export function* madeUpDays(ask: DemoAsk): Generator<readonly DemoAttempt[], void> {
  const tunes = tunesCalled(TITLES, BOOKS).map(({ id, tune }) => ({ tuneId: id, tune }));
  yield* demoDays({ ...ask, seed: SEED, tunes });
}

export const DAYS_MADE_UP = DEMO_DAYS;

/** As the history keeps them: without takes. */
export const entryOfDemo = (made: DemoAttempt, id: string): StoredEntry => ({
  ...made,
  id,
  source: "microphone",
  take: null,
});

/** Six in the evening of the day before, on the clock here: what is due of it is due today. */
export function eveningBefore(nowEpochMs: number): number {
  const evening = new Date(nowEpochMs);
  evening.setDate(evening.getDate() - 1);
  return evening.setHours(18, 0, 0, 0);
}
