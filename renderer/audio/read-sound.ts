import { mixDown } from "../../core/listen/mix-down.ts";
import { whyTooLong } from "../../core/listen/take-limits.ts";
import { readWav } from "../../core/listen/wav.ts";

/** A recording as it comes to the worker that reads it. */
export type UnreadSound =
  /** The whole file. */
  | { readonly kind: "WAV"; readonly bytes: ArrayBuffer }
  /** What the browser decoded: a channel each, of one length. */
  | {
      readonly kind: "channels";
      readonly channels: readonly Float32Array<ArrayBuffer>[];
      readonly sampleRateHz: number;
    };

export type DecodedRecording =
  | { readonly kind: "take"; readonly samples: Float32Array; readonly sampleRateHz: number }
  /** `reason` is the end of a sentence. */
  | { readonly kind: "unreadable"; readonly reason: string };

/** The sound as one channel, unless it is no WAV or lasts longer than can be marked. */
export function readSound(sound: UnreadSound): DecodedRecording {
  const read = sound.kind === "WAV" ? readWav(new Uint8Array(sound.bytes)) : mixedDown(sound);
  if (read.kind === "unreadable") return read;
  const { samples, sampleRateHz } = read;
  const reason = whyTooLong(samples.length, sampleRateHz);
  return reason === null ? { kind: "take", samples, sampleRateHz } : { kind: "unreadable", reason };
}

function mixedDown({ channels, sampleRateHz }: Extract<UnreadSound, { kind: "channels" }>): DecodedRecording {
  const { samples } = mixDown(channels[0]?.length ?? 0, channels.length, (i, out) => {
    for (let c = 0; c < channels.length; c++) out[c] = channels[c]?.[i] ?? 0;
  });
  return { kind: "take", samples, sampleRateHz };
}
