import type { Listening } from "../../core/listen/listening.ts";
import ListeningWorker from "./listening.worker.ts?worker";
import { soundContext, wakeSound } from "./sound-context.ts";
import tapUrl from "./tap.worklet.ts?worker&url";
import { type ListenCommand, type ListenReport, TAP, type TapConnect } from "./tap-messages.ts";

/** Why there is no microphone, and in one sentence what to do. */
export interface MicrophoneProblem {
  readonly cause: "denied" | "none" | "busy" | "unsupported" | "failed";
  readonly words: string;
}

/** What the microphone hears just now. */
export interface LiveReading {
  /** On the sound context's clock. */
  readonly atSeconds: number;
  /** Fractional, A4 = 440 Hz; null while no reed is judged to sound. */
  readonly pitchMidi: number | null;
  readonly levelDbfs: number;
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
  /** Processing that spoils reed tones and that the system would not turn off, in words. */
  readonly refused: readonly string[];
  onReading(listener: (reading: LiveReading) => void): () => void;
  /** Told once if the device goes away. */
  onEnded(listener: () => void): void;
  startTake(): Promise<void>;
  stopTake(): Promise<RecordedTake>;
  cancelTake(): void;
  close(): void;
}

export type OpenedMicrophone =
  | { readonly kind: "open"; readonly session: MicrophoneSession }
  | { readonly kind: "problem"; readonly problem: MicrophoneProblem };

export type OpenMicrophone = () => Promise<OpenedMicrophone>;

/** Reed tones are wrecked by what helps speech. */
const WANTED: MediaTrackConstraints = {
  echoCancellation: false,
  noiseSuppression: false,
  autoGainControl: false,
  channelCount: 1,
};

/** Asks for the microphone and begins to listen. */
export const openMicrophone: OpenMicrophone = async () => {
  if (navigator.mediaDevices === undefined || typeof AudioWorkletNode === "undefined") {
    return problem(
      "unsupported",
      "This window cannot use a microphone. Open Reedpath through its own start command.",
    );
  }
  try {
    const stream = await navigator.mediaDevices.getUserMedia({ audio: WANTED, video: false });
    return await listenTo(stream);
  } catch (error) {
    return explain(error);
  }
};

async function listenTo(stream: MediaStream): Promise<OpenedMicrophone> {
  const track = stream.getAudioTracks()[0];
  if (track === undefined) return problem("none", NO_MICROPHONE);
  try {
    await wakeSound();
    return { kind: "open", session: await openSession(stream, track) };
  } catch (error) {
    for (const one of stream.getTracks()) one.stop();
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

const PROCESSING: readonly (readonly [
  setting: "echoCancellation" | "noiseSuppression" | "autoGainControl",
  words: string,
])[] = [
  ["echoCancellation", "echo cancellation"],
  ["noiseSuppression", "noise suppression"],
  ["autoGainControl", "automatic gain"],
];

/** Read back, because asking is not getting. Some systems report a mode by name instead of true. */
function refusedProcessing(track: MediaStreamTrack): readonly string[] {
  const settings: Readonly<Record<string, unknown>> = { ...track.getSettings() };
  return PROCESSING.filter(([setting]) => Boolean(settings[setting])).map(([, words]) => words);
}

async function openSession(stream: MediaStream, track: MediaStreamTrack): Promise<MicrophoneSession> {
  const { context } = soundContext();
  await context.audioWorklet.addModule(tapUrl);
  const source = context.createMediaStreamSource(stream);
  const tap = new AudioWorkletNode(context, TAP, { channelCount: 1, channelCountMode: "explicit" });
  // Nodes that lead nowhere may not be run; this one leads to silence.
  const mute = new GainNode(context, { gain: 0 });
  const worker = new ListeningWorker();
  const channel = new MessageChannel();
  const command = (message: ListenCommand, transfer: Transferable[] = []) =>
    worker.postMessage(message, transfer);
  command({ kind: "connect", port: channel.port2, sampleRateHz: context.sampleRate }, [channel.port2]);
  const connect: TapConnect = { port: channel.port1 };
  tap.port.postMessage(connect, [channel.port1]);
  source.connect(tap).connect(mute).connect(context.destination);
  const close = () => {
    source.disconnect();
    tap.disconnect();
    mute.disconnect();
    worker.terminate();
    track.stop();
  };
  return sessionOver(worker, command, context.sampleRate, track, close);
}

/** The session's verbs, over messages to the worker that records and listens. */
function sessionOver(
  worker: Worker,
  command: (message: ListenCommand) => void,
  sampleRateHz: number,
  track: MediaStreamTrack,
  close: () => void,
): MicrophoneSession {
  const readings = new Set<(reading: LiveReading) => void>();
  worker.addEventListener("message", ({ data }: MessageEvent<ListenReport>) => {
    if (data.kind !== "reading") return;
    const { frame, kind: _, ...rest } = data;
    for (const listener of readings) listener({ atSeconds: frame / sampleRateHz, ...rest });
  });
  return {
    sampleRateHz,
    deviceName: track.label,
    refused: refusedProcessing(track),
    onReading(listener) {
      readings.add(listener);
      return () => readings.delete(listener);
    },
    onEnded(listener) {
      track.addEventListener("ended", listener, { once: true });
    },
    async startTake() {
      command({ kind: "start" });
      await nextReport(worker, "started");
    },
    async stopTake() {
      command({ kind: "stop" });
      const { samples, firstFrame, lostSamples, listening } = await nextReport(worker, "take");
      return { samples, sampleRateHz, firstSampleSeconds: firstFrame / sampleRateHz, lostSamples, listening };
    },
    cancelTake() {
      command({ kind: "cancel" });
    },
    close() {
      readings.clear();
      close();
    },
  };
}

/** Waits for one kind of report; rejects when the worker says it failed. */
function nextReport<K extends ListenReport["kind"]>(
  worker: Worker,
  kind: K,
): Promise<Extract<ListenReport, { kind: K }>> {
  return new Promise((resolve, reject) => {
    const listen = ({ data }: MessageEvent<ListenReport>) => {
      if (data.kind === kind) {
        worker.removeEventListener("message", listen);
        resolve(data as Extract<ListenReport, { kind: K }>);
      } else if (data.kind === "failed") {
        worker.removeEventListener("message", listen);
        reject(new Error(data.reason));
      }
    };
    worker.addEventListener("message", listen);
    worker.addEventListener("error", (event) => reject(new Error(event.message)), { once: true });
  });
}
