import type { ReedpathDatabase } from "../../../renderer/store/database.ts";
import type { DexieHistoryUpkeep } from "../../../renderer/store/dexie-history-upkeep.ts";
import { unpackTake } from "../../../renderer/store/take-packing.ts";
import { copyDifferences } from "../../support/copy-differences.ts";
import { printOf } from "./made-sound.ts";

/** Everything that is kept, as far as it can be told right or wrong from outside. */
export interface LookedAtAll {
  readonly ids: readonly string[];
  /** Of each take that is kept, by the id of its attempt. */
  readonly takePrints: readonly (readonly [string, number])[];
  readonly running: readonly { readonly id: string; readonly samples: number; readonly print: number }[];
  /** Pieces of a take that is not running, or that lie not one behind the other. */
  readonly strayPieces: number;
  /** What a full recount found, and what the second copy holds otherwise. */
  readonly differences: readonly string[];
  readonly attempts: number;
  /** Whether there was no database when the page was opened: a browser throws one away that it finds damaged. */
  readonly wasMade: boolean;
  /** Attempts that came out of the second copy then. */
  readonly broughtBack: number;
}

export async function lookAtAll(
  database: ReedpathDatabase,
  upkeep: DexieHistoryUpkeep,
  broughtBack: number,
): Promise<LookedAtAll> {
  const { differences, attempts } = await upkeep.verify();
  const takes = await database.takes.toArray();
  const takePrints = takes.map(async (take) => [take.id, printOf((await unpackTake(take)).samples)] as const);
  const rows = await database.runningTakes.toArray();
  const pieces = await database.takePieces.toArray();
  const running = rows.map(({ id, samples }) => {
    const whole = new Float32Array(samples);
    let at = 0;
    for (const piece of pieces.filter(({ take }) => take === id)) {
      whole.set(piece.samples, at);
      at += piece.samples.length;
    }
    return { id, samples, print: printOf(whole) };
  });
  const counted = new Map<string, number>();
  let strayPieces = 0;
  for (const { take, number } of pieces) {
    const expected = counted.get(take) ?? 0;
    counted.set(take, expected + 1);
    if (number !== expected || !rows.some(({ id }) => id === take)) strayPieces += 1;
  }
  return {
    ids: await database.lines.toCollection().primaryKeys(),
    takePrints: await Promise.all(takePrints),
    running,
    strayPieces,
    differences: [...differences, ...(await copyDifferences(database))],
    attempts,
    wasMade: database.wasMade,
    broughtBack,
  };
}
