import type { BendErrors } from "../measures/bend-measures.ts";
import { spread } from "../measures/summary.ts";
import { type SeedResult, scoreOver } from "./measured.ts";
import { fixed, table } from "./numbers.ts";

export const bendSpread = (bends: BendErrors | null) =>
  bends === null
    ? null
    : { count: bends.cents.length + bends.gross, gross: bends.gross, ...spread(bends.cents) };

/** Bends of recorded reeds against the same engine's unbent note, by its notes and by its frames. */
export function bendTable(result: SeedResult): string {
  const rows = [...result.engines.keys()].flatMap((engine) =>
    (["harm", "acc"] as const).flatMap((instrument) => {
      const score = scoreOver(result, engine, new RegExp(`^sf_.*_${instrument}_bend$`));
      return (
        [
          ["notes", score.bends],
          ["frames", score.bendsByFrames],
        ] as const
      ).flatMap(([by, bends]) => {
        const of = bendSpread(bends);
        if (of === null) return [];
        const reeds = instrument === "harm" ? "harmonica" : "accordion";
        const numbers = [of.median, of.p95, of.rms].map((value) => fixed(value, 3));
        return [[reeds, engine, by, String(of.count), ...numbers, String(of.gross)]];
      });
    }),
  );
  return table(["recorded", "engine", "by its", "bends", "median c", "95 % c", "rms c", "gross"], rows);
}
