import type { KnownReeds } from "../../core/listen/known-reeds.ts";
import type { Listening } from "../../core/listen/listening.ts";
import ListeningWorker from "./listening.worker.ts?worker";
import { deviceOf, microphones, refusedProcessing, stopTracks, streamFrom } from "./microphone-stream.ts";
import type { ToldNote } from "./note-teller.ts";
import { soundContext, wakeSound } from "./sound-context.ts";
import { findDevice, type SoundDevice } from "./sound-device.ts";
import tapUrl from "./tap.worklet.ts?worker&url";
import { type ListenCommand, type ListenReport, TAP, type TapCommand } from "./tap-messages.ts";

/** Why there is no microphone, and in one sentence what to do. */
export interface MicrophoneProblem {
  readonly cause: "denied" | "none" | "busy" | "unsupported" | "failed";
  readonly words: string;
}

/** What the microphone hears just now. */
export interface LiveReading {
  /** When what was read sounded, on the sound context's clock: some 50 ms ago. */
  readonly atSeconds: number;
  /** Fractional, A4 = 440 Hz; null while no reed is judged to sound. */
  readonly pitchMidi: number | null;
  readonly levelDbfs: number;
  /** Level of the second reed in a note that has just ended, in dB against it; null where none sounded, and between takes. */
  readonly secondReedDb: number | null;
  readonly clipped: boolean;
  /** True after a second of exact zeros: the system does not let the sound through. */
  readonly silent: boolean;
}

export interface RecordedTake {
  /** The whole take, one channel, 32-bit float. */
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
  /** When the first sample was taken in, on the sound context's clock. */
  readonly firstSampleSeconds: number;
  readonly lostSamples: number;
  readonly listening: Listening;
}

/** An open microphone. */
export interface MicrophoneSession {
  readonly sampleRateHz: number;
  readonly deviceName: string;
  /** The chosen microphone, if it is away and this one is used instead; null otherwise. */
  readonly insteadOf: string | null;
  /** Processing that spoils reed tones and that the system would not turn off, in words. */
  readonly refused: readonly string[];
  onReading(listener: (reading: LiveReading) => void): () => void;
  /** Told once if the device goes away; the session is then closed and a running take is lost. */
  onEnded(listener: () => void): void;
  /** @param known reeds of the instrument in hand; without, it is not known */
  startTake(known?: KnownReeds): Promise<void>;
  stopTake(): Promise<RecordedTake>;
  cancelTake(): void;
  /**
   * Tells each note as it ends, until the returned function is called; one listener at a time.
   *
   * @param known reeds of the instrument in hand
   */
  followNotes(known: KnownReeds, onNote: (told: ToldNote) => void): () => void;
  close(): void;
}

export type OpenedMicrophone =
  | { readonly kind: "open"; readonly session: MicrophoneSession }
  | { readonly kind: "problem"; readonly problem: MicrophoneProblem };

/** @param wanted the one the player chose; the system's own where none is, or where it is away */
export type OpenMicrophone = (wanted?: SoundDevice | null) => Promise<OpenedMicrophone>;

/** Asks for the microphone and begins to listen. */
export const openMicrophone: OpenMicrophone = async (wanted = null) => {
  if (navigator.mediaDevices === undefined || typeof AudioWorkletNode === "undefined") {
    return problem(
      "unsupported",
      "This window cannot use a microphone. Open Reedpath through its own start command.",
    );
  }
  try {
    return await listenTo(await streamFrom(wanted), wanted);
  } catch (error) {
    return explain(error);
  }
};

async function listenTo(stream: MediaStream, wanted: SoundDevice | null): Promise<OpenedMicrophone> {
  const track = stream.getAudioTracks()[0];
  if (track === undefined) return problem("none", NO_MICROPHONE);
  try {
    await wakeSound();
    const device = deviceOf(track, await microphones());
    const insteadOf = wanted !== null && findDevice(wanted, [device]) === null ? wanted.name : null;
    return { kind: "open", session: await openSession(stream, track, device.name, insteadOf) };
  } catch (error) {
    stopTracks(stream);
    throw error;
  }
}

const NO_MICROPHONE = "No microphone was found. Plug one in and start again.";

function explain(error: unknown): OpenedMicrophone {
  const name = error instanceof DOMException ? error.name : "";
  if (name === "NotAllowedError" || name === "SecurityError") {
    return problem(
      "denied",
      "The microphone is not allowed. Allow it for Reedpath in the browser's or system's settings, then start again.",
    );
  }
  if (name === "NotFoundError" || name === "OverconstrainedError") return problem("none", NO_MICROPHONE);
  if (name === "NotReadableError" || name === "AbortError") {
    return problem(
      "busy",
      "The microphone is held by another program or not ready. Close that program and start again.",
    );
  }
  const detail = error instanceof Error ? error.message : String(error);
  return problem("failed", `The microphone could not be opened (${detail}).`);
}

function problem(cause: MicrophoneProblem["cause"], words: string): OpenedMicrophone {
  return { kind: "problem", problem: { cause, words } };
}

async function openSession(
  stream: MediaStream,
  track: MediaStreamTrack,
  deviceName: string,
  insteadOf: string | null,
): Promise<MicrophoneSession> {
  const { context } = soundContext();
  await context.audioWorklet.addModule(tapUrl);
  const source = context.createMediaStreamSource(stream);
  const tap = new AudioWorkletNode(context, TAP, { channelCount: 1, channelCountMode: "explicit" });
  // Nodes that lead nowhere may not be run; this one leads to silence.
  const mute = new GainNode(context, { gain: 0 });
  const worker = new ListeningWorker();
  const { port1, port2 } = new MessageChannel();
  const connect: ListenCommand = { kind: "connect", port: port2, sampleRateHz: context.sampleRate };
  worker.postMessage(connect, [port2]);
  const tell = (command: TapCommand, transfer: Transferable[]) => tap.port.postMessage(command, transfer);
  // Straight from the audio thread to the worker: sound never waits for the window.
  tell({ kind: "connect", port: port1 }, [port1]);
  source.connect(tap).connect(mute).connect(context.destination);
  const release = () => {
    tell({ kind: "end" }, []);
    source.disconnect();
    tap.disconnect();
    mute.disconnect();
    track.stop();
  };
  const about = {
    sampleRateHz: context.sampleRate,
    deviceName,
    insteadOf,
    refused: refusedProcessing(track),
  };
  const session = new WorkerSession(worker, about, track, release);
  await session.settle().catch((error: unknown) => {
    session.close();
    throw error;
  });
  return session;
}

/** A wireless microphone may need a second or two to wake. */
const LONGEST_START_MS = 5000;

/** The session's verbs, over messages to the worker that records and listens. */
class WorkerSession implements MicrophoneSession {
  readonly sampleRateHz: number;
  readonly deviceName: string;
  readonly insteadOf: string | null;
  readonly refused: readonly string[];
  private readonly readings = new Set<(reading: LiveReading) => void>();
  private readonly ended = new Set<() => void>();
  private onNote: ((told: ToldNote) => void) | null = null;
  private readonly closing = new AbortController();

  constructor(
    private readonly worker: Worker,
    about: Pick<MicrophoneSession, "sampleRateHz" | "deviceName" | "insteadOf" | "refused">,
    track: MediaStreamTrack,
    private readonly release: () => void,
  ) {
    this.sampleRateHz = about.sampleRateHz;
    this.deviceName = about.deviceName;
    this.insteadOf = about.insteadOf;
    this.refused = about.refused;
    const { signal } = this.closing;
    worker.addEventListener("message", (event) => this.pass(event.data), { signal });
    track.addEventListener("ended", () => this.deviceGone(), { signal });
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

  onEnded(listener: () => void): void {
    this.ended.add(listener);
  }

  async startTake(known: KnownReeds | null = null): Promise<void> {
    await this.ask({ kind: "start", known }, "started");
  }

  async stopTake(): Promise<RecordedTake> {
    const take = await this.ask({ kind: "stop" }, "take");
    const { samples, firstFrame, lostSamples, listening } = take;
    const { sampleRateHz } = this;
    return { samples, sampleRateHz, firstSampleSeconds: firstFrame / sampleRateHz, lostSamples, listening };
  }

  cancelTake(): void {
    this.worker.postMessage({ kind: "cancel" } satisfies ListenCommand);
  }

  followNotes(known: KnownReeds, onNote: (told: ToldNote) => void): () => void {
    const tell = (command: ListenCommand) => this.worker.postMessage(command);
    this.onNote = onNote;
    tell({ kind: "follow", known });
    return () => {
      if (this.onNote !== onNote) return;
      this.onNote = null;
      tell({ kind: "unfollow" });
    };
  }

  close(): void {
    if (this.closing.signal.aborted) return;
    this.closing.abort();
    this.release();
    this.worker.terminate();
  }

  private pass(report: ListenReport): void {
    if (report.kind === "note") this.onNote?.(report);
    if (report.kind !== "reading") return;
    const { kind, frame, ...rest } = report;
    const reading = { atSeconds: frame / this.sampleRateHz, ...rest };
    for (const listener of this.readings) listener(reading);
  }

  private deviceGone(): void {
    this.close();
    for (const listener of this.ended) listener();
  }

  private ask<K extends ListenReport["kind"]>(
    command: ListenCommand,
    kind: K,
  ): Promise<Extract<ListenReport, { kind: K }>> {
    const answer = nextReport(this.worker, kind, this.closing.signal);
    this.worker.postMessage(command);
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
