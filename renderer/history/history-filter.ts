import { readPracticeDay } from "../../core/progress/practice-day.ts";
import type { AttemptFilter } from "../store/history-store.ts";

/** What attempts must have, as its fields hold it; an empty text asks for nothing. */
export interface HistoryFilter {
  /** Letters of the title, of a drill or a tune. */
  readonly title: string;
  readonly harp: string;
  /** "2" for second. */
  readonly position: string;
  readonly technique: string;
  /** Days of practice, "2026-03-29", both included. */
  readonly from: string;
  readonly to: string;
  readonly starred: boolean;
}

export const EVERYTHING: HistoryFilter = {
  title: "",
  harp: "",
  position: "",
  technique: "",
  from: "",
  to: "",
  starred: false,
};

/** The question to the history; a day that is half typed asks for nothing. */
export function asked({ title, harp, position, technique, from, to, starred }: HistoryFilter): AttemptFilter {
  const [first, last] = [readPracticeDay(from), readPracticeDay(to)];
  return {
    ...(title.trim() === "" ? {} : { title: title.trim() }),
    ...(harp === "" ? {} : { harp }),
    ...(position === "" ? {} : { position: Number(position) }),
    ...(technique === "" ? {} : { technique }),
    ...(first === null ? {} : { from: first }),
    ...(last === null ? {} : { to: last }),
    ...(starred ? { starred } : {}),
  };
}
