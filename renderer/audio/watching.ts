import type { SoundTrouble } from "./sound-trouble.ts";
import { type Found, SoundWatch } from "./sound-watch.ts";

const LOOK_MS = 250;

/** What is watched while a microphone is open. */
export interface Watched {
  readonly context: AudioContext;
  readonly track: MediaStreamTrack;
  /** Readings of the microphone so far. */
  readonly readings: () => number;
}

/**
 * Watches over the sound for as long as a microphone is open.
 *
 * @param onTrouble told of everything that breaks into listening
 * @returns how to end the watch
 */
export function watchSound(
  { context, track, readings }: Watched,
  onTrouble: (found: Found) => void,
): () => void {
  const watch = new SoundWatch();
  const look = () => {
    const { deviceId = "", sampleRate = null } = track.getSettings();
    const found = watch.look({
      wallSeconds: Date.now() / 1000,
      steadySeconds: performance.now() / 1000,
      soundSeconds: context.currentTime,
      contextState: context.state,
      readings: readings(),
      deviceId,
      rateHz: sampleRate,
    });
    if (found !== null) onTrouble(found);
  };
  const at = (trouble: SoundTrouble) => () => onTrouble({ trouble, wholeUntilSeconds: context.currentTime });
  const ended = new AbortController();
  const { signal } = ended;
  // What slept is looked at before anything else is done about it.
  track.addEventListener("ended", at({ kind: "unplugged" }), { signal });
  track.addEventListener("mute", at({ kind: "muted" }), { signal });
  context.addEventListener("statechange", look, { signal });
  context.addEventListener("error", at({ kind: "sound failed" }), { signal });
  // A window that is put away for good hears nothing more after this.
  document.addEventListener("freeze", at({ kind: "stood still" }), { signal });
  look();
  const timer = setInterval(look, LOOK_MS);
  return () => {
    clearInterval(timer);
    ended.abort();
  };
}
