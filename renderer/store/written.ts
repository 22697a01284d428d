import { type Kept, orTrouble } from "./store-trouble.ts";
import type { Tables } from "./tables.ts";

/** Runs a database action that writes, and waits until what it wrote is in the second copy too. Fails as `orTrouble` does. */
export async function written<T>(
  database: Pick<Tables, "copied">,
  kept: Kept,
  action: () => Promise<T>,
): Promise<T> {
  const done = await orTrouble(kept, action);
  await database.copied();
  return done;
}
