import type { HeardBeats, SoundingPair } from "../../../core/workshop/measure/heard-beats.ts";
import type { OpenMicrophone } from "../../audio/microphone.ts";
import { type SoundTrouble, troubleWords, wayOn } from "../../audio/sound-trouble.ts";
import type { MeasureWork } from "./measure-work.ts";

export type TogetherOutcome =
  | { readonly kind: "heard"; readonly heard: HeardBeats }
  /** One sentence. */
  | { readonly kind: "trouble"; readonly words: string }
  | { readonly kind: "stopped" };

interface TogetherServices {
  readonly openMicrophone: OpenMicrophone;
  readonly work: MeasureWork;
}

/** Time to get both holes sounding, and for the beats to come round often enough. */
export const TOGETHER_SECONDS = 5;
const LOOK_MS = 100;

/**
 * Records two reeds for five seconds and has their beats told.
 *
 * @param onShare told the share of the recording that is done, 0..1
 */
export async function hearTogether(
  { openMicrophone, work }: TogetherServices,
  pair: SoundingPair,
  onShare: (share: number) => void,
  signal: AbortSignal,
): Promise<TogetherOutcome> {
  const opened = await openMicrophone();
  if (opened.kind === "problem") return { kind: "trouble", words: opened.problem.words };
  const { session } = opened;
  let trouble: SoundTrouble | null = null;
  const broken = new AbortController();
  session.onEnded((ended) => {
    trouble = ended.trouble;
    broken.abort();
  });
  try {
    await session.startTake();
    await waitFor(onShare, AbortSignal.any([signal, broken.signal]));
    const { samples, sampleRateHz } = await session.stopTake();
    session.close();
    return { kind: "heard", heard: await work.beats(samples, sampleRateHz, pair, { signal }) };
  } catch (error) {
    if (signal.aborted) return { kind: "stopped" };
    if (trouble !== null)
      return { kind: "trouble", words: `${troubleWords(trouble)} ${wayOn(trouble, "try again")}.` };
    return {
      kind: "trouble",
      words: `That did not work: ${error instanceof Error ? error.message : error}.`,
    };
  } finally {
    session.close();
  }
}

function waitFor(onShare: (share: number) => void, signal: AbortSignal): Promise<void> {
  const began = performance.now();
  return new Promise((resolve, reject) => {
    const timer = setInterval(() => {
      const share = Math.min(1, (performance.now() - began) / (1000 * TOGETHER_SECONDS));
      if (signal.aborted || share >= 1) clearInterval(timer);
      if (signal.aborted) reject(new DOMException("stopped", "AbortError"));
      else if (share >= 1) resolve();
      else onShare(share);
    }, LOOK_MS);
  });
}
