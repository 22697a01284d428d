import type { ReedpathDatabase } from "./database.ts";
import { orTrouble } from "./store-trouble.ts";
import { byTitle, type KeptTune, type ListedTune, type TuneStore, type TuneStudy } from "./tune-store.ts";
import { written } from "./written.ts";

/** Tunes in the browser's database: lines and texts apart, so that a list never loads a text. */
export class DexieTuneStore implements TuneStore {
  constructor(private readonly database: ReedpathDatabase) {}

  async list(): Promise<readonly ListedTune[]> {
    return byTitle(await orTrouble("your tunes", () => this.database.tunes.toArray()));
  }

  async open(id: string): Promise<KeptTune | null> {
    const { tunes, tuneTexts } = this.database;
    return orTrouble("your tunes", () =>
      this.database.transaction("r", tunes, tuneTexts, async () => (await this.read([id]))[0] ?? null),
    );
  }

  async texts(ids: readonly string[]): Promise<readonly string[]> {
    const rows = await orTrouble("your tunes", () => this.database.tuneTexts.bulkGet([...ids]));
    return rows.flatMap((row) => row?.abc ?? []);
  }

  async keep(kept: readonly KeptTune[]): Promise<void> {
    const { tunes, tuneTexts } = this.database;
    await written(this.database, "your tunes", () =>
      this.database.transaction("rw", tunes, tuneTexts, async () => {
        await tunes.bulkPut(kept.map(({ abc, ...line }) => line));
        await tuneTexts.bulkPut(kept.map(({ id, abc }) => ({ id, abc })));
      }),
    );
  }

  async remove(ids: readonly string[]): Promise<readonly KeptTune[]> {
    const { tunes, tuneTexts } = this.database;
    return written(this.database, "your tunes", () =>
      this.database.transaction("rw", tunes, tuneTexts, async () => {
        const removed = await this.read(ids);
        await tunes.bulkDelete([...ids]);
        await tuneTexts.bulkDelete([...ids]);
        return removed;
      }),
    );
  }

  async study(id: string): Promise<TuneStudy | null> {
    return (await orTrouble("your tunes", () => this.database.tuneStudies.get(id))) ?? null;
  }

  async studies(): Promise<readonly TuneStudy[]> {
    return orTrouble("your tunes", () => this.database.tuneStudies.toArray());
  }

  async keepStudy(study: TuneStudy): Promise<void> {
    await written(this.database, "your tunes", () => this.database.tuneStudies.put(study));
  }

  /** To be called within a transaction. */
  private async read(ids: readonly string[]): Promise<readonly KeptTune[]> {
    const [lines, texts] = await Promise.all([
      this.database.tunes.bulkGet([...ids]),
      this.database.tuneTexts.bulkGet([...ids]),
    ]);
    return lines.flatMap((line, n) => {
      const text = texts[n];
      return line === undefined || text === undefined ? [] : [{ ...line, abc: text.abc }];
    });
  }
}
