import { byTitle, type KeptTune, type ListedTune, type TuneStore, type TuneStudy } from "./tune-store.ts";

/** Tunes for as long as the window is open. */
export class MemoryTuneStore implements TuneStore {
  private readonly tunes = new Map<string, KeptTune>();
  private readonly studiesById = new Map<string, TuneStudy>();

  async list(): Promise<readonly ListedTune[]> {
    return byTitle([...this.tunes.values()].map(({ abc, ...line }) => structuredClone(line)));
  }

  async open(id: string): Promise<KeptTune | null> {
    return structuredClone(this.tunes.get(id) ?? null);
  }

  async texts(ids: readonly string[]): Promise<readonly string[]> {
    return ids.flatMap((id) => this.tunes.get(id)?.abc ?? []);
  }

  async keep(tunes: readonly KeptTune[]): Promise<void> {
    for (const tune of tunes) this.tunes.set(tune.id, structuredClone(tune));
  }

  async remove(ids: readonly string[]): Promise<readonly KeptTune[]> {
    const removed = ids.flatMap((id) => this.tunes.get(id) ?? []);
    for (const id of ids) this.tunes.delete(id);
    return removed;
  }

  async study(id: string): Promise<TuneStudy | null> {
    return structuredClone(this.studiesById.get(id) ?? null);
  }

  async studies(): Promise<readonly TuneStudy[]> {
    return structuredClone([...this.studiesById.values()]);
  }

  async keepStudy(study: TuneStudy): Promise<void> {
    this.studiesById.set(study.id, structuredClone(study));
  }
}
