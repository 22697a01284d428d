import { listenInWorker, simulateInWorker } from "../../../renderer/audio/analysis.ts";
import { setBeat } from "../../../renderer/audio/beat-sound.ts";
import { decodeRecording } from "../../../renderer/audio/decode.ts";
import { openMicrophone } from "../../../renderer/audio/microphone.ts";
import { createPlayback } from "../../../renderer/audio/playback.ts";
import { createReference } from "../../../renderer/audio/reference.ts";
import { setLoudness, soundContext, wakeSound } from "../../../renderer/audio/sound-context.ts";
import tapUrl from "../../../renderer/audio/tap.worklet.ts?worker&url";
import { TAP, type TapBlock, type TapCommand } from "../../../renderer/audio/tap-messages.ts";

/** What went to the loudspeaker. */
interface HeardOutput {
  /** On the sound context's clock. */
  readonly firstSampleSeconds: number;
  readonly sampleRateHz: number;
  /** Samples that never reached the tap. */
  readonly lostSamples: number;
  /** Little-endian 32-bit float, as base64. */
  readonly samples: string;
}

/** The first worklet of a page moves the sound to another thread, which costs a tenth of a second of it. */
const MOVE_SECONDS = 0.4;
/** The last samples are on their way for a moment. */
const ARRIVE_SECONDS = 0.1;

/** Listens at the very end of the sound's way, with the program's own tap. */
async function tapOutput(): Promise<{ end(): Promise<HeardOutput> }> {
  const { context, output } = soundContext();
  await wakeSound();
  await context.audioWorklet.addModule(tapUrl);
  const tap = new AudioWorkletNode(context, TAP, { channelCount: 1, channelCountMode: "explicit" });
  const mute = new GainNode(context, { gain: 0 });
  const { port1, port2 } = new MessageChannel();
  const blocks: TapBlock[] = [];
  port2.onmessage = ({ data }: MessageEvent<TapBlock>) => blocks.push(data);
  const connect: TapCommand = { kind: "connect", port: port1 };
  tap.port.postMessage(connect, [port1]);
  // A steady nothing keeps the tap supplied while no voice is connected.
  const nothing = new ConstantSourceNode(context, { offset: 0 });
  nothing.start();
  nothing.connect(tap);
  output.connect(tap).connect(mute).connect(context.destination);
  await wait(MOVE_SECONDS);
  blocks.length = 0;
  return {
    async end() {
      await wait(ARRIVE_SECONDS);
      output.disconnect(tap);
      const end: TapCommand = { kind: "end" };
      tap.port.postMessage(end);
      nothing.stop();
      return join(blocks, context.sampleRate);
    },
  };
}

function join(blocks: readonly TapBlock[], sampleRateHz: number): HeardOutput {
  const first = blocks[0]?.frame ?? 0;
  const last = blocks.at(-1);
  const whole = new Float32Array(last === undefined ? 0 : last.frame + last.samples.length - first);
  for (const block of blocks) whole.set(block.samples, block.frame - first);
  const lostSamples = whole.length - blocks.reduce((sum, block) => sum + block.samples.length, 0);
  return { firstSampleSeconds: first / sampleRateHz, sampleRateHz, lostSamples, samples: toBase64(whole) };
}

function toBase64(samples: Float32Array): string {
  const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000)
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

function fromBase64(text: string): Float32Array {
  const bytes = Uint8Array.from(atob(text), (character) => character.charCodeAt(0));
  return new Float32Array(bytes.buffer);
}

const wait = (seconds: number) => new Promise<void>((resolve) => setTimeout(resolve, 1000 * seconds));

const room = {
  openMicrophone,
  createReference,
  createPlayback,
  decodeRecording,
  listenInWorker,
  simulateInWorker,
  setBeat,
  setLoudness,
  soundContext,
  wakeSound,
  tapOutput,
  toBase64,
  fromBase64,
  wait,
};

declare global {
  var audioRoom: typeof room;
}
globalThis.audioRoom = room;
