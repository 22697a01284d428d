import { Dexie } from "dexie";
import { DATABASE_NAME } from "./database.ts";

/** Everything that is counted is written in the transaction of its day's total. */
const TABLE = new RegExp(`/${DATABASE_NAME}/days(/|$)`);

/** Told after the history changed, by whichever window or worker. @returns what ends it */
export type OnHistoryChange = (listener: () => void) => () => void;

export const onHistoryChange: OnHistoryChange = (listener) => {
  // Dexie tells "idb://database/table/index", or "all" once a database is gone.
  const onParts = (parts: object) => {
    if (Object.keys(parts).some((part) => part === "all" || TABLE.test(part))) listener();
  };
  Dexie.on("storagemutated", onParts);
  return () => Dexie.on.storagemutated.unsubscribe(onParts);
};
