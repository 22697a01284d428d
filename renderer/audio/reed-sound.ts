import type { Hz, Seconds } from "../../core/units.ts";
import { ReferenceVoices } from "./reference-voices.ts";
import { keepAwake, soundContext, wakeSound } from "./sound-context.ts";

/** Reeds sounded at once, outside any exercise. */
export interface ReedSound {
  /** Sounds the pitches together for a while; what sounded before is hushed. Several share the loudness of one. */
  soundNotes(pitches: readonly Hz[], length: Seconds): Promise<void>;
}

const LEAD_SECONDS = 0.05;
const TAIL_SECONDS = 0.1;

/** Single reeds and chords with the reference's voice. */
export function createReedSound(): ReedSound {
  let hush = () => {};
  let asked = 0;
  return {
    async soundNotes(pitches, length) {
      const number = ++asked;
      hush();
      await wakeSound();
      // While the sound woke up another reed may have been asked for.
      if (number !== asked) return;
      const rest = keepAwake();
      const voices = pitches.map(() => new ReferenceVoices(1 / pitches.length));
      const at = soundContext().context.currentTime + LEAD_SECONDS;
      voices.forEach((voice, index) => {
        const pitch = pitches[index];
        if (pitch !== undefined) voice.soundNote(pitch, at, length);
      });
      const silence = () => {
        for (const voice of voices) voice.silence();
        rest();
      };
      const timer = setTimeout(silence, 1000 * (LEAD_SECONDS + length + TAIL_SECONDS));
      hush = () => {
        clearTimeout(timer);
        silence();
      };
    },
  };
}
