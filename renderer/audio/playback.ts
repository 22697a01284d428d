import { soundContext, wakeSound } from "./sound-context.ts";

export interface PlaybackOptions {
  /** Told about twelve times a second where in the take one is, in seconds. */
  readonly onPosition?: (seconds: number) => void;
  /** Told when the take has come to its end by itself. */
  readonly onEnd?: () => void;
}

/** Lets the player hear a take again. */
export interface Playback {
  /** Plays from a time in the take, in place of anything played before. */
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
      const began = context.currentTime - fromSeconds;
      const timer = setInterval(() => options.onPosition?.(context.currentTime - began), POSITION_MS);
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
      source.start(0, fromSeconds);
    },
    stop() {
      end();
    },
  };
}
