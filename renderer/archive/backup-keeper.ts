import type { Backup } from "../../electron/bridge.ts";

/** What backing up needs of the world. */
export interface BackupWorld {
  /** Null where there is none. */
  readonly newest: () => Promise<Backup | null>;
  /** The history: how many attempts, and when the last one was; null for none. */
  readonly history: () => Promise<{ readonly attempts: number; readonly lastAtEpochMs: number } | null>;
  /** Rejects with a sentence where it cannot be saved. */
  readonly backUp: (attempts: number) => Promise<void>;
  /** Does something later. @returns stops it */
  readonly after: (ms: number, act: () => void) => () => void;
}

/** So long after its last attempt a session is over. */
export const IDLE_MS = 120_000;

/** `saved` counts the backups made; `trouble` is why the last one was not, as a sentence. */
export interface BackupState {
  readonly saved: number;
  readonly trouble: string | null;
}

/** Backs up after each session, and at the start what the last session was ended too soon for. */
export class BackupKeeper {
  private state: BackupState = { saved: 0, trouble: null };
  private readonly listeners = new Set<() => void>();
  private stopWaiting: () => void = () => {};
  private running: Promise<void> | null = null;

  constructor(private readonly world: BackupWorld) {}

  getState = (): BackupState => this.state;

  subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  /** To be called once, when the window opens. */
  async start(): Promise<void> {
    await this.run(async () => {
      const [history, newest] = await Promise.all([this.world.history(), this.world.newest()]);
      if (history === null) return;
      if (newest === null || newest.atEpochMs < history.lastAtEpochMs) await this.backUp(history.attempts);
    });
  }

  /** An attempt was kept just now. */
  attemptKept(): void {
    this.stopWaiting();
    this.stopWaiting = this.world.after(IDLE_MS, () => void this.afterSession());
  }

  /** Stops waiting; a backup that is being made goes on. */
  dispose(): void {
    this.stopWaiting();
  }

  private afterSession(): Promise<void> {
    return this.run(async () => {
      const history = await this.world.history();
      if (history !== null) await this.backUp(history.attempts);
    });
  }

  private async backUp(attempts: number): Promise<void> {
    await this.world.backUp(attempts);
    this.set({ saved: this.state.saved + 1, trouble: null });
  }

  /** One after the other; what goes wrong is told, and the next session tries again. */
  private async run(act: () => Promise<void>): Promise<void> {
    const before = this.running ?? Promise.resolve();
    const now = before
      .then(act)
      .catch((error: unknown) =>
        this.set({ ...this.state, trouble: error instanceof Error ? error.message : String(error) }),
      );
    this.running = now;
    await now;
  }

  private set(state: BackupState): void {
    this.state = state;
    for (const listener of this.listeners) listener();
  }
}
