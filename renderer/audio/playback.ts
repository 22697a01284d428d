import { soundContext, wakeSound } from "./sound-context.ts";

export interface PlaybackOptions {
  /** Told about twelve times a second where in the take one is, in seconds. */
  readonly onPosition?: (seconds: number) => void;
  /** Told when the take has come to its end by itself. */
  readonly onEnd?: () => void;
}

/** Lets the player hear a take again. */
export interface Playback {
  /**
   * Plays from a time in the take, in place of anything played before.
   *
   * @param fromSeconds held to the length of the take
   */
  play(samples: Float32Array, sampleRateHz: number, fromSeconds: number, options: PlaybackOptions): void;
  stop(): void;
}

const POSITION_MS = 80;

export function createPlayback(): Playback {
  let end: () => void = () => {};
  return {
    play(samples, sampleRateHz, fromSeconds, options) {
      end();
      const { context, output } = soundContext();
      void wakeSound();
      const buffer = context.createBuffer(1, Math.max(1, samples.length), sampleRateHz);
      buffer.getChannelData(0).set(samples);
      const source = new AudioBufferSourceNode(context, { buffer });
      source.connect(output);
      const from = Math.min(buffer.duration, Math.max(0, fromSeconds));
      const began = context.currentTime - from;
      // What is heard now left this clock a moment ago.
      const heard = () => Math.max(from, context.currentTime - (context.outputLatency || 0) - began);
      const timer = setInterval(() => options.onPosition?.(heard()), POSITION_MS);
      end = () => {
        clearInterval(timer);
        source.onended = null;
        source.stop();
        source.disconnect();
        end = () => {};
      };
      source.onended = () => {
        end();
        options.onEnd?.();
      };
      source.start(0, from);
    },
    stop() {
      end();
    },
  };
}
