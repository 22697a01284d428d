import type { Exercise } from "../../core/exercise/exercise.ts";
import { isSilence } from "../../core/listen/take-limits.ts";
import { reedsOfExercise } from "../../core/score/known-reeds.ts";
import { type RecordingResult, toldOf } from "../../core/score/recording-results.ts";
import type { ScoreSettings } from "../../core/score/score-take.ts";
import { whyTooLarge } from "../audio/file-limit.ts";
import type { Gathered } from "./gather-recordings.ts";
import type { PracticeServices } from "./practice-services.ts";

export interface RecordingRow {
  readonly name: string;
  /** Null while it has not been marked. */
  readonly result: RecordingResult | null;
}

export interface MarkerState {
  readonly rows: readonly RecordingRow[];
  /** The recording being marked, and the share of it that was listened to, 0..1; null where nothing is under way. */
  readonly running: { readonly at: number; readonly share: number } | null;
  /** Names of what a folder holds besides recordings. */
  readonly leftAlone: readonly string[];
}

type Services = Pick<PracticeServices, "decodeRecording" | "listenInWorker" | "marking">;

/**
 * Many recordings marked against one exercise, one after the other. Holds handles and numbers, never more than one
 * recording's sound.
 */
export class RecordingsMarker {
  private state: MarkerState = { rows: [], running: null, leftAlone: [] };
  private files: readonly File[] = [];
  private readonly listeners = new Set<() => void>();
  private abort: AbortController | null = null;
  /** The one looked at last, to find the way back to it. */
  lastOpened: number | null = null;

  constructor(
    private readonly exercise: Exercise,
    private readonly settings: ScoreSettings,
    private readonly services: Services,
  ) {}

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly getState = (): MarkerState => this.state;

  /** The file of a row. */
  fileOf(at: number): File | null {
    return this.files[at] ?? null;
  }

  /** Marks these in place of any before. Resolves when all are marked or it was stopped. */
  start({ recordings, leftAlone }: Gathered): Promise<void> {
    this.stop();
    this.files = recordings.map(({ file }) => file);
    this.lastOpened = null;
    this.set({ rows: recordings.map(({ name }) => ({ name, result: null })), running: null, leftAlone });
    return this.goOn();
  }

  /** Marks what is left. */
  async goOn(): Promise<void> {
    if (this.abort !== null) return;
    const abort = new AbortController();
    this.abort = abort;
    for (const [at, { name, result }] of this.state.rows.entries()) {
      if (result !== null) continue;
      this.set({ ...this.state, running: { at, share: 0 } });
      const marked = await this.mark(name, this.files[at], at, abort.signal);
      if (abort.signal.aborted) return;
      const rows = this.state.rows.with(at, { name, result: marked });
      this.set({ ...this.state, rows });
    }
    this.abort = null;
    this.set({ ...this.state, running: null });
  }

  /** Ends at once; what is marked stays. */
  stop(): void {
    this.abort?.abort();
    this.abort = null;
    if (this.state.running !== null) this.set({ ...this.state, running: null });
  }

  /** Every recording with what became of it. */
  results(): readonly RecordingResult[] {
    const reason = this.state.running === null ? "stopped before its turn" : "not its turn yet";
    return this.state.rows.map(({ name, result }) => result ?? { kind: "not marked", name, reason });
  }

  private async mark(
    name: string,
    file: File | undefined,
    at: number,
    signal: AbortSignal,
  ): Promise<RecordingResult> {
    const not = (reason: string) => ({ kind: "not marked" as const, name, reason });
    if (file === undefined) throw new Error(`there is no file for ${name}`);
    const tooLarge = whyTooLarge(file.size);
    if (tooLarge !== null) return not(tooLarge);
    const bytes = await file.arrayBuffer().catch(() => null);
    if (bytes === null) return not("the file can no longer be read: it was moved, changed or taken away");
    try {
      const take = await this.services.decodeRecording(name, bytes, { signal });
      if (take.kind === "unreadable") return not(take.reason);
      const listening = await this.services.listenInWorker(take.samples, take.sampleRateHz, {
        known: reedsOfExercise(this.exercise),
        signal,
        onProgress: (share) => !signal.aborted && this.set({ ...this.state, running: { at, share } }),
      });
      if (isSilence(listening.peakDbfs)) return not("it holds only silence");
      const attempt = await this.services.marking.mark(this.exercise, listening, this.settings);
      return { kind: "marked", name, told: toldOf(attempt) };
    } catch (error) {
      return not(error instanceof Error ? error.message : String(error));
    }
  }

  private set(state: MarkerState): void {
    this.state = state;
    for (const listener of this.listeners) listener();
  }
}

/** How many exercises' recordings are held: a lesson's, not a year's. */
const MOST_MARKERS = 12;

/** The recordings marked since the window was opened, by exercise and way; they outlast the sheet they were marked on. */
export class RecordingsShelf {
  private readonly markers = new Map<string, RecordingsMarker>();

  constructor(private readonly services: Services) {}

  /** What was marked against the exercise by these settings before, or an empty start. */
  of(exercise: Exercise, settings: ScoreSettings): RecordingsMarker {
    const key = JSON.stringify([exercise, settings]);
    const marker = this.markers.get(key) ?? new RecordingsMarker(exercise, settings, this.services);
    // The one asked for last goes to the end; the first is the one to leave out.
    this.markers.delete(key);
    this.markers.set(key, marker);
    for (const [oldest, { getState }] of this.markers) {
      if (this.markers.size <= MOST_MARKERS) break;
      if (getState().running === null) this.markers.delete(oldest);
    }
    return marker;
  }
}
