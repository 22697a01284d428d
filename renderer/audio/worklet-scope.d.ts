/** The audio worklet's own scope, which TypeScript's DOM library leaves out. Source: Web Audio API, section 1.32. */
declare abstract class AudioWorkletProcessor {
  readonly port: MessagePort;
  abstract process(
    inputs: readonly (readonly Float32Array[])[],
    outputs: readonly (readonly Float32Array[])[],
  ): boolean;
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;
/** Sample frames since the context began, at the start of the current block. */
declare const currentFrame: number;
