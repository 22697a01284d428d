import ListeningWorker from "./listening.worker.ts?worker";
import type { MicrophoneSession } from "./microphone-session.ts";
import { deviceOf, microphones, refusedProcessing, stopTracks, streamFrom } from "./microphone-stream.ts";
import { keepAwake, soundContext, wakeSound } from "./sound-context.ts";
import { findDevice, type SoundDevice } from "./sound-device.ts";
import { NOTHING_AROUND, type Surroundings } from "./surroundings.ts";
import tapUrl from "./tap.worklet.ts?worker&url";
import { type ListenCommand, TAP, type TapCommand } from "./tap-messages.ts";
import { WorkerSession } from "./worker-session.ts";

export type {
  EndedListening,
  LiveReading,
  MicrophoneSession,
  OnPiece,
  RecordedTake,
} from "./microphone-session.ts";

/** Why there is no microphone, and in one sentence what to do. */
export interface MicrophoneProblem {
  readonly cause: "denied" | "none" | "busy" | "unsupported" | "not looked at" | "failed";
  readonly words: string;
}

export type OpenedMicrophone =
  | { readonly kind: "open"; readonly session: MicrophoneSession }
  | { readonly kind: "problem"; readonly problem: MicrophoneProblem };

/** @param wanted the one the player chose; the system's own where none is, or where it is away */
export type OpenMicrophone = (wanted?: SoundDevice | null) => Promise<OpenedMicrophone>;

/**
 * Asks for the microphone and begins to listen.
 *
 * @param wanted as for `OpenMicrophone`
 * @param around what an open microphone has around it
 */
export async function openMicrophone(
  wanted: SoundDevice | null = null,
  around: Surroundings = NOTHING_AROUND,
): Promise<OpenedMicrophone> {
  if (navigator.mediaDevices === undefined || typeof AudioWorkletNode === "undefined") {
    return problem(
      "unsupported",
      "This window cannot use a microphone. Open Reedpath through its own start command.",
    );
  }
  const away = around.notLookedAt();
  if (away !== null)
    return problem("not looked at", `The microphone stays closed while this window is ${away}. Start again.`);
  try {
    return await listenTo(await streamFrom(wanted), wanted, around);
  } catch (error) {
    return explain(error);
  }
}

async function listenTo(
  stream: MediaStream,
  wanted: SoundDevice | null,
  around: Surroundings,
): Promise<OpenedMicrophone> {
  const track = stream.getAudioTracks()[0];
  if (track === undefined) return problem("none", NO_MICROPHONE);
  // From now on it is open, whatever becomes of it.
  const closed = around.opened(track.label);
  const rest = keepAwake();
  const letGo = () => {
    stopTracks(stream);
    rest();
    closed();
  };
  try {
    await wakeSound();
    const device = deviceOf(track, await microphones());
    const insteadOf = wanted !== null && findDevice(wanted, [device]) === null ? wanted.name : null;
    return {
      kind: "open",
      session: await openSession(stream, track, { name: device.name, insteadOf }, around, letGo),
    };
  } catch (error) {
    letGo();
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
  device: { readonly name: string; readonly insteadOf: string | null },
  around: Surroundings,
  letGo: () => void,
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
    letGo();
  };
  const about = {
    sampleRateHz: context.sampleRate,
    deviceName: device.name,
    insteadOf: device.insteadOf,
    refused: refusedProcessing(track),
  };
  const session = new WorkerSession({ worker, about, context, track, around, release });
  await session.settle().catch((error: unknown) => {
    session.close();
    throw error;
  });
  return session;
}
