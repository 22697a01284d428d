import type { ArchiveNote, Practised } from "./archive-note.ts";
import type { ReedpathDatabase } from "./database.ts";
import { orTrouble } from "./store-trouble.ts";
import { written } from "./written.ts";

const NOTHING: Practised = { attempts: 0, days: 0 };

/** Remembers when an archive was saved last. Every verb rejects with a StoreTrouble when it cannot do its work. */
export class ArchiveNotes {
  constructor(private readonly database: ReedpathDatabase) {}

  async practised(): Promise<Practised> {
    const days = await orTrouble("the history", () => this.database.days.toArray());
    const own = days.map(({ attempts, demoAttempts }) => attempts - demoAttempts);
    return {
      attempts: own.reduce((sum, one) => sum + one, 0),
      days: own.filter((attempts) => attempts > 0).length,
    };
  }

  async read(): Promise<ArchiveNote> {
    const row = await orTrouble("the history", () => this.database.meta.get("archive"));
    return row?.id === "archive" ? row : { saved: NOTHING, quietUntilEpochMs: 0 };
  }

  /** An archive of everything was saved just now. */
  async saved(): Promise<void> {
    await this.put({ saved: await this.practised(), quietUntilEpochMs: 0 });
  }

  async quietUntil(quietUntilEpochMs: number): Promise<void> {
    await this.put({ ...(await this.read()), quietUntilEpochMs });
  }

  /** What comes in meanwhile is in an archive already. */
  async broughtInBy<T>(act: () => Promise<T>): Promise<T> {
    const before = await this.practised();
    try {
      return await act();
    } finally {
      const after = await this.practised();
      const { saved, quietUntilEpochMs } = await this.read();
      const more = (of: keyof Practised) => saved[of] + after[of] - before[of];
      await this.put({ saved: { attempts: more("attempts"), days: more("days") }, quietUntilEpochMs });
    }
  }

  private async put(note: ArchiveNote): Promise<void> {
    await written(this.database, "the history", () => this.database.meta.put({ id: "archive", ...note }));
  }
}
