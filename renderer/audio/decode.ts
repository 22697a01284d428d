import { mixDown } from "../../core/listen/mix-down.ts";
import { readWav } from "../../core/listen/wav.ts";

export type DecodedRecording =
  | { readonly kind: "take"; readonly samples: Float32Array; readonly sampleRateHz: number }
  | { readonly kind: "unreadable"; readonly reason: string };

export type DecodeRecording = (name: string, bytes: ArrayBuffer) => Promise<DecodedRecording>;

const MOST_MEGABYTES = 200;
const MOST_MINUTES = 60;
/** Rate other formats are decoded to; they carry none that would have to be kept. */
const DECODED_RATE_HZ = 48_000;

/**
 * Reads a WAV as it is, and through the browser whatever else it can decode, mixed down to one channel.
 *
 * @param bytes the whole file; given away, as the browser empties what it decodes
 */
export const decodeRecording: DecodeRecording = async (name, bytes) => {
  if (bytes.byteLength > MOST_MEGABYTES * 1_000_000) {
    return unreadable(
      `it has ${Math.round(bytes.byteLength / 1_000_000)} MB; at most ${MOST_MEGABYTES} MB can be opened`,
    );
  }
  const read = isWav(name, bytes) ? readWavTake(bytes) : await decodeByBrowser(bytes);
  if (read.kind === "take" && read.samples.length > MOST_MINUTES * 60 * read.sampleRateHz) {
    return unreadable(`it lasts longer than the ${MOST_MINUTES} minutes that can be marked`);
  }
  return read;
};

/** By name or by its first bytes: a text file called .wav is to be told apart as a WAV that is none. */
function isWav(name: string, bytes: ArrayBuffer): boolean {
  const start = new TextDecoder("latin1").decode(bytes.slice(0, 4));
  return start === "RIFF" || /[.]wave?$/i.test(name);
}

function readWavTake(bytes: ArrayBuffer): DecodedRecording {
  const read = readWav(new Uint8Array(bytes));
  if (read.kind === "unreadable") return read;
  return { kind: "take", samples: read.samples, sampleRateHz: read.sampleRateHz };
}

async function decodeByBrowser(bytes: ArrayBuffer): Promise<DecodedRecording> {
  try {
    const context = new OfflineAudioContext(1, 1, DECODED_RATE_HZ);
    const buffer = await context.decodeAudioData(bytes);
    const channels = Array.from({ length: buffer.numberOfChannels }, (_, c) => buffer.getChannelData(c));
    const { samples } = mixDown(buffer.length, channels.length, (i, out) => {
      for (let c = 0; c < channels.length; c++) out[c] = channels[c]?.[i] ?? 0;
    });
    return { kind: "take", samples, sampleRateHz: buffer.sampleRate };
  } catch {
    return unreadable("it is not sound this window can decode");
  }
}

const unreadable = (reason: string): DecodedRecording => ({ kind: "unreadable", reason });
