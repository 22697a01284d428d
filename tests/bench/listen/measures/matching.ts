/**
 * Pairs as many of `references` with `estimates` as can be, each used once.
 *
 * @returns for each estimate the index of its reference, or -1
 *
 * Source: maximum bipartite matching by augmenting paths (Kuhn 1955), as mir_eval.util._bipartite_match; the number of
 * pairs is the same whichever maximum matching is found.
 */
export function matched<R, E>(
  references: readonly R[],
  estimates: readonly E[],
  fits: (reference: R, estimate: E) => boolean,
): number[] {
  const fitting = references.map((reference) =>
    estimates.flatMap((estimate, e) => (fits(reference, estimate) ? [e] : [])),
  );
  const partner = estimates.map(() => -1);
  const place = (r: number, seen: Set<number>): boolean => {
    for (const e of fitting[r] ?? []) {
      if (seen.has(e)) continue;
      seen.add(e);
      const holder = partner[e] ?? -1;
      if (holder < 0 || place(holder, seen)) {
        partner[e] = r;
        return true;
      }
    }
    return false;
  };
  for (let r = 0; r < references.length; r++) place(r, new Set());
  return partner;
}

export interface PrecisionRecall {
  readonly precision: number;
  readonly recall: number;
  readonly f1: number;
}

/** All 0 where there is nothing to count, as mir_eval has it. */
export function precisionRecall(pairs: number, references: number, estimates: number): PrecisionRecall {
  const precision = estimates > 0 ? pairs / estimates : 0;
  const recall = references > 0 ? pairs / references : 0;
  const both = precision + recall;
  return { precision, recall, f1: both > 0 ? (2 * precision * recall) / both : 0 };
}
