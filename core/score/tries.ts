import type { Visit } from "./align-costs.ts";

/** A passage that was begun and then played again. */
export interface Abandoned {
  /** The written notes it reached, and the played ones it took: the ends count as inside. */
  readonly fromWritten: number;
  readonly toWritten: number;
  readonly fromPlayed: number;
  readonly toPlayed: number;
}

export interface Tries {
  /** The answers that count, ascending on both sides. */
  readonly answers: readonly Visit[];
  /** Places in `answers` that follow on an abandoned try. */
  readonly begunAgain: ReadonlySet<number>;
  readonly abandoned: readonly Abandoned[];
}

/**
 * Takes a path apart into the answers that count and the tries that were abandoned. Of two tries at a passage the later
 * counts; only one at the end of the take that does not reach as far as the earlier one is itself the abandoned one.
 *
 * @param path ascending by played note; going back in the written notes begins a new try
 */
export function tellTriesApart(path: readonly Visit[], playedCount: number): Tries {
  let answers: Visit[] = [];
  let begunAgain: number[] = [];
  const abandoned: Abandoned[] = [];
  for (const [place, visit] of path.entries()) {
    const last = answers.at(-1);
    if (last !== undefined && visit.written <= last.written) {
      const since = answers.findIndex((answer) => answer.written >= visit.written);
      const fallsShort = Math.max(...path.slice(place).map((later) => later.written)) < last.written;
      if (fallsShort) {
        abandoned.push(abandonedOf(path.slice(place), playedCount));
        break;
      }
      abandoned.push(abandonedOf(answers.slice(since), visit.played));
      answers = answers.slice(0, since);
      begunAgain = [...begunAgain.filter((at) => at < since), since];
    }
    answers.push(visit);
  }
  return { answers, begunAgain: new Set(begunAgain), abandoned };
}

/** @param endPlayed the first played note that no longer belongs to it */
function abandonedOf(visits: readonly Visit[], endPlayed: number): Abandoned {
  const written = visits.map((visit) => visit.written);
  return {
    fromWritten: Math.min(...written),
    toWritten: Math.max(...written),
    fromPlayed: visits[0]?.played ?? endPlayed,
    toPlayed: endPlayed - 1,
  };
}
