/** Under which name the browser keeps it, apart from the database. */
const NAME = "reedpath history";

interface Witness {
  /** That were in the history when it was looked at last. */
  readonly attempts: number;
  /** That went with a database the browser put away, until the player was told; 0 for none. */
  readonly lost: number;
}

const NOTHING: Witness = { attempts: 0, lost: 0 };

/**
 * Remembers outside the database that there was a history. A browser that finds its database damaged puts it away and begins an
 * empty one without a word; only from here it can be known that it was not empty before.
 */
export class HistoryWitness {
  /** @param storage null where the browser lets nothing be kept so: then nothing is known */
  constructor(private readonly storage: Pick<Storage, "getItem" | "setItem"> | null) {}

  /**
   * @param isAnew whether the database had to be made, and may lack something
   * @param back attempts that came back nevertheless
   * @returns how many attempts went with the one before; 0 for none
   */
  opened(isAnew: boolean, back: number): number {
    const { attempts, lost } = this.read();
    if (!isAnew || attempts <= back) return lost;
    this.write({ attempts: back, lost: attempts - back });
    return attempts - back;
  }

  /** So many attempts are in the history. */
  sees(attempts: number): void {
    this.write({ ...this.read(), attempts });
  }

  /** The player knows of what was lost. */
  told(): void {
    this.write({ ...this.read(), lost: 0 });
  }

  private read(): Witness {
    try {
      const read: unknown = JSON.parse(this.storage?.getItem(NAME) ?? "null");
      if (typeof read !== "object" || read === null) return NOTHING;
      const { attempts, lost } = read as Partial<Record<keyof Witness, unknown>>;
      return { attempts: whole(attempts), lost: whole(lost) };
    } catch {
      return NOTHING;
    }
  }

  private write(witness: Witness): void {
    try {
      this.storage?.setItem(NAME, JSON.stringify(witness));
    } catch {
      // A full disk is told of by whoever keeps attempts.
    }
  }
}

const whole = (value: unknown): number => (Number.isSafeInteger(value) ? Math.max(0, Number(value)) : 0);
