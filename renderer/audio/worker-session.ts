import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import type {
  EndedListening,
  LiveReading,
  MicrophoneSession,
  OnPiece,
  RecordedTake,
} from "./microphone-session.ts";
import type { ToldNote } from "./note-teller.ts";
import type { SoundTrouble } from "./sound-trouble.ts";
import type { Found } from "./sound-watch.ts";
import type { Surroundings, WaysByName } from "./surroundings.ts";
import type { ListenCommand, ListenReport } from "./tap-messages.ts";
import { watchSound } from "./watching.ts";

/** What a session is made of. */
export interface SessionParts {
  readonly worker: Worker;
  readonly about: Pick<MicrophoneSession, "sampleRateHz" | "deviceName" | "insteadOf" | "refused">;
  readonly context: AudioContext;
  readonly track: MediaStreamTrack;
  readonly around: Surroundings;
  /** Parts the sound nodes and lets go of the microphone. */
  readonly release: () => void;
}

/** A wireless microphone may need a second or two to wake. */
const LONGEST_START_MS = 5000;

/** The session's verbs, over messages to the worker that records and listens. */
export class WorkerSession implements MicrophoneSession {
  readonly sampleRateHz: number;
  readonly deviceName: string;
  readonly insteadOf: string | null;
  readonly refused: readonly string[];
  private readonly readings = new Set<(reading: LiveReading) => void>();
  private readonly ended = new Set<(ended: EndedListening) => void>();
  private onNote: ((told: ToldNote) => void) | null = null;
  private onPiece: OnPiece | null = null;
  private readonly closing = new AbortController();
  private readonly stopWatching: () => void;
  private readingsSoFar = 0;
  /** What sound came in and went out by when the running take began; null while none runs. */
  private takeWays: WaysByName | null = null;
  /** The end of a take that the player has asked for and is still being listened to. */
  private stopping: Promise<unknown> = Promise.resolve();
  private isOver = false;

  constructor(private readonly parts: SessionParts) {
    const { worker, about, context, track, around } = parts;
    this.sampleRateHz = about.sampleRateHz;
    this.deviceName = about.deviceName;
    this.insteadOf = about.insteadOf;
    this.refused = about.refused;
    worker.addEventListener("message", (event) => this.pass(event.data), { signal: this.closing.signal });
    const stops = [
      watchSound({ context, track, readings: () => this.readingsSoFar }, (found) => this.end(found)),
      around.onWays(() => this.followWays()),
      around.onNotLookedAt((how) => this.endNow({ kind: "not looked at", how })),
    ];
    this.stopWatching = () => {
      for (const stop of stops) stop();
    };
  }

  /**
   * Waits until sound has come without a gap for as long as one reading needs: in its first tenth of a second the
   * audio thread leaves samples out.
   */
  settle(): Promise<void> {
    return new Promise((resolve, reject) => {
      const settled = this.onReading(({ levelDbfs }) => {
        if (levelDbfs === Number.NEGATIVE_INFINITY) return;
        settled();
        clearTimeout(timer);
        resolve();
      });
      const timer = setTimeout(() => reject(new Error("no sound arrives from it")), LONGEST_START_MS);
    });
  }

  onReading(listener: (reading: LiveReading) => void): () => void {
    this.readings.add(listener);
    return () => this.readings.delete(listener);
  }

  onEnded(listener: (ended: EndedListening) => void): void {
    this.ended.add(listener);
  }

  async startTake(known: KnownReeds | null = null, onPiece: OnPiece | null = null): Promise<void> {
    this.onPiece = null;
    await this.ask({ kind: "start", known, inPieces: onPiece !== null }, "started");
    // A piece of the take before may have been on its way until then.
    this.onPiece = onPiece;
    this.takeWays = this.parts.around.ways();
  }

  stopTake(): Promise<RecordedTake> {
    this.takeWays = null;
    const take = this.takeUntil(null);
    this.stopping = take;
    return take;
  }

  cancelTake(): void {
    this.onPiece = null;
    this.takeWays = null;
    this.parts.worker.postMessage({ kind: "cancel" } satisfies ListenCommand);
  }

  followNotes(known: KnownReeds, onNote: (told: ToldNote) => void): () => void {
    const tell = (command: ListenCommand) => this.parts.worker.postMessage(command);
    this.onNote = onNote;
    tell({ kind: "follow", known });
    return () => {
      if (this.onNote !== onNote) return;
      this.onNote = null;
      tell({ kind: "unfollow" });
    };
  }

  close(): void {
    this.letGo();
    this.closing.abort();
    this.parts.worker.terminate();
  }

  private pass(report: ListenReport): void {
    if (report.kind === "note") this.onNote?.(report);
    if (report.kind === "piece") this.onPiece?.(report);
    if (report.kind === "broken off")
      this.endNow({ kind: "samples missing", seconds: report.missingSamples / this.sampleRateHz });
    if (report.kind !== "reading") return;
    this.readingsSoFar++;
    const { kind, frame, ...rest } = report;
    const reading = { atSeconds: frame / this.sampleRateHz, ...rest };
    for (const listener of this.readings) listener(reading);
  }

  /** In mid-take another way out has another delay, and another way in is another instrument to the ear. */
  private followWays(): void {
    const { takeWays, isOver } = this;
    if (takeWays === null || isOver) return;
    const now = this.parts.around.ways();
    const left = (before: string | null, after: string | null) =>
      before !== null && after !== null && before !== after;
    if (left(takeWays.output, now.output)) this.endNow({ kind: "output gone", name: takeWays.output ?? "" });
    // A stream that was asked for by its own mark stays with its device.
    else if (left(takeWays.input, now.input) && this.parts.track.getSettings().deviceId === "default")
      this.endNow({ kind: "another microphone", name: now.input ?? "" });
  }

  private endNow(trouble: SoundTrouble): void {
    this.end({ trouble, wholeUntilSeconds: this.parts.context.currentTime });
  }

  /** Closes the microphone, saves what is whole of a running take, and tells. */
  private end({ trouble, wholeUntilSeconds }: Found): void {
    if (this.isOver) return;
    const takes = this.takeWays !== null;
    this.letGo();
    const whole = Math.floor(wholeUntilSeconds * this.sampleRateHz);
    const rescued = (takes ? this.takeUntil(whole) : Promise.resolve(null)).catch(() => null);
    void Promise.allSettled([this.stopping, rescued]).then(() => this.close());
    for (const listener of this.ended) listener({ trouble, rescued });
  }

  private letGo(): void {
    if (this.isOver) return;
    this.isOver = true;
    this.stopWatching();
    this.parts.release();
  }

  /** @param untilFrame of the context's clock, where the take is whole no longer; null for all of it */
  private async takeUntil(untilFrame: number | null): Promise<RecordedTake> {
    const take = await this.ask({ kind: "stop", untilFrame }, "take");
    const { samples, firstFrame, lostSamples, listening } = take;
    const { sampleRateHz } = this;
    return { samples, sampleRateHz, firstSampleSeconds: firstFrame / sampleRateHz, lostSamples, listening };
  }

  private ask<K extends ListenReport["kind"]>(
    command: ListenCommand,
    kind: K,
  ): Promise<Extract<ListenReport, { kind: K }>> {
    const answer = nextReport(this.parts.worker, kind, this.closing.signal);
    this.parts.worker.postMessage(command);
    return answer;
  }
}

/** Waits for one kind of report; rejects when the worker fails, and when the microphone is closed meanwhile. */
function nextReport<K extends ListenReport["kind"]>(
  worker: Worker,
  kind: K,
  closing: AbortSignal,
): Promise<Extract<ListenReport, { kind: K }>> {
  return new Promise((resolve, reject) => {
    const waiting = new AbortController();
    const { signal } = waiting;
    const fail = (reason: string) => {
      waiting.abort();
      reject(new Error(reason));
    };
    if (closing.aborted) return fail("the microphone is closed");
    closing.addEventListener("abort", () => fail("the microphone was closed"), { signal });
    worker.addEventListener("error", (event) => fail(event.message), { signal });
    worker.addEventListener(
      "message",
      ({ data }: MessageEvent<ListenReport>) => {
        if (data.kind === "failed") fail(data.reason);
        if (data.kind !== kind) return;
        waiting.abort();
        resolve(data as Extract<ListenReport, { kind: K }>);
      },
      { signal },
    );
  });
}
