/** Why something kept could not be read or written, in one sentence for the player that names what is concerned. */
export class StoreTrouble extends Error {
  constructor(
    readonly trouble: "full" | "newer version" | "blocked" | "unavailable",
    message: string,
  ) {
    super(message);
    this.name = "StoreTrouble";
  }
}

/** An attempt is not kept yet: it is in memory. */
export class NotKeptYet extends StoreTrouble {
  /** @param kept resolves with its id once it is kept after all */
  constructor(
    trouble: StoreTrouble,
    readonly kept: Promise<string>,
  ) {
    super(trouble.trouble, trouble.message);
  }
}

/** What the player can do about each, as the end of a sentence. */
export const WAY_OUT: Readonly<Record<StoreTrouble["trouble"], string>> = {
  full: "make room on it and try again",
  "newer version": "open that version, or update this one",
  blocked: "close that window and try again",
  unavailable: "close every window of this program, open it again and try again",
};

/** What is kept, as a player calls it. */
export type Kept =
  | "the history"
  | "your layouts"
  | "your harps"
  | "your tunes"
  | "your set lists"
  | "your measurements"
  | "the settings"
  | "what is kept";

/** Runs a database action, turning its failures into a sentence for the player about what is kept. */
export async function orTrouble<T>(kept: Kept, action: () => Promise<T>): Promise<T> {
  try {
    return await action();
  } catch (error) {
    if (wasStopped(error)) throw error;
    throw troubleOf(kept, error);
  }
}

/** By who asked for the work; a database that gives up says what made it. */
const wasStopped = (error: unknown) =>
  error instanceof Object && nameOf(error) === "AbortError" && !("inner" in error);

function troubleOf(kept: Kept, error: unknown): StoreTrouble {
  const chain = causesOf(error);
  const known = chain.find((cause) => cause instanceof StoreTrouble);
  if (known !== undefined) return known;
  // A database is opened at our version or not at all (`own-schema.ts`).
  if (chain.some((cause) => nameOf(cause) === "VersionError")) {
    return new StoreTrouble("newer version", `a newer version of this program wrote ${kept}`);
  }
  if (chain.some((cause) => nameOf(cause) === "QuotaExceededError")) {
    return new StoreTrouble("full", `there is no room left on the disk for ${kept}`);
  }
  // What keeps a database from opening closes it as well: only the innermost cause tells.
  const innermost = chain.at(-1) ?? error;
  if (nameOf(innermost) === "DatabaseClosedError" || nameOf(innermost) === "BlockedError") {
    return new StoreTrouble("blocked", `another window of this program holds ${kept}`);
  }
  const detail = innermost instanceof Error ? innermost.message.split("\n")[0] : String(innermost);
  return new StoreTrouble("unavailable", `${kept} cannot be used here (${detail})`);
}

const nameOf = (cause: unknown) => (cause instanceof Object && "name" in cause ? cause.name : null);

/** Dexie wraps the browser's error in its own, sometimes twice. */
function causesOf(error: unknown): readonly object[] {
  const chain: object[] = [];
  for (let at = error; at instanceof Object && chain.length < 4; at = "inner" in at ? at.inner : null) {
    chain.push(at);
  }
  return chain;
}
