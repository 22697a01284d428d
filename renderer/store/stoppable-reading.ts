import type { Table, Transaction } from "dexie";
import type { ReedpathDatabase } from "./database.ts";

/**
 * Reads within a transaction that is given up at once where the signal says so, in the middle of a cursor too.
 *
 * @throws what the signal was aborted with
 */
export async function stoppableReading<T>(
  database: ReedpathDatabase,
  tables: readonly Table[],
  signal: AbortSignal | undefined,
  read: () => Promise<T>,
): Promise<T> {
  signal?.throwIfAborted();
  let stop = () => {};
  try {
    const found = await database.transaction("r", tables, async (transaction) => {
      stop = () => abort(transaction);
      signal?.addEventListener("abort", stop);
      return read();
    });
    signal?.throwIfAborted();
    return found;
  } catch (error) {
    signal?.throwIfAborted();
    throw error;
  } finally {
    signal?.removeEventListener("abort", stop);
  }
}

function abort(transaction: Transaction): void {
  try {
    transaction.abort();
  } catch {
    // The browser had ended it already, which nobody was told yet: all was read.
  }
}
