import { readInWorker, type WorkOptions } from "./analysis.ts";
import { whyTooLarge } from "./file-limit.ts";
import type { DecodedRecording, UnreadSound } from "./read-sound.ts";

export type { DecodedRecording } from "./read-sound.ts";

export type DecodeRecording = (
  name: string,
  bytes: ArrayBuffer,
  options?: Pick<WorkOptions, "signal">,
) => Promise<DecodedRecording>;

/** Rate other formats are decoded to; they carry none that would have to be kept. */
const DECODED_RATE_HZ = 48_000;

/**
 * Reads a WAV as it is, and through the browser whatever else it can decode, mixed down to one channel: off the window's
 * thread, or by the browser beside it.
 *
 * @param bytes the whole file; given away
 */
export const decodeRecording: DecodeRecording = async (name, bytes, options = {}) => {
  const reason = whyTooLarge(bytes.byteLength);
  if (reason !== null) return { kind: "unreadable", reason };
  if (isWav(name, bytes)) return readInWorker({ kind: "WAV", bytes }, options);
  const sound = await decodeByBrowser(bytes);
  return sound === null
    ? { kind: "unreadable", reason: "it is not sound this window can decode" }
    : readInWorker(sound, options);
};

/** By name or by its first bytes: a text file called .wav is to be told apart as a WAV that is none. */
export function isWav(name: string, bytes: ArrayBuffer): boolean {
  const start = new TextDecoder("latin1").decode(bytes.slice(0, 4));
  return start === "RIFF" || /[.]wave?$/i.test(name);
}

async function decodeByBrowser(bytes: ArrayBuffer): Promise<UnreadSound | null> {
  try {
    const context = new OfflineAudioContext(1, 1, DECODED_RATE_HZ);
    const buffer = await context.decodeAudioData(bytes);
    const channels = Array.from({ length: buffer.numberOfChannels }, (_, c) => buffer.getChannelData(c));
    return { kind: "channels", channels, sampleRateHz: buffer.sampleRate };
  } catch {
    return null;
  }
}
