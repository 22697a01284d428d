import { playRecordedHarmonica } from "../../outside/fluidsynth.ts";
import { expressionFor, type MidiNote } from "../../outside/midi-bytes.ts";
import { readSound } from "../listen/corpus/wav-file.ts";
import type { Sound } from "./performance.ts";
import { EVEN_DB, GAIN, HIGHEST_KEY, LOWEST_KEY, type Reeds } from "./reed-samples.ts";

/** All but the channel that General MIDI keeps for drums. A reed that rings on keeps its own bend. */
const CHANNELS = Array.from({ length: 16 }, (_, channel) => channel).filter((channel) => channel !== 9);

/** A sound as a note of the font: which key bent how far, so that it sounds at its pitch however the reed is tuned. */
export interface Voiced {
  readonly note: MidiNote;
  /** What is left between the pitch wanted and the one played: bends are whole cents. Null where the reed never settles. */
  readonly leftCents: number | null;
}

export function voiced(sound: Sound, place: number, reeds: Reeds): Voiced {
  const { onSeconds, offSeconds, pitch, levelDb } = sound;
  const key = Math.max(LOWEST_KEY, Math.min(HIGHEST_KEY, Math.round(pitch)));
  const own = reeds.ownCents(key, offSeconds - onSeconds);
  const wanted = 100 * (pitch - key) - (own ?? 0);
  const bendCents = Math.round(wanted);
  const channel = CHANNELS[place % CHANNELS.length] ?? 0;
  const expression = expressionFor(EVEN_DB + levelDb - reeds.levelDb(key));
  return {
    note: { onSeconds, offSeconds, key, bendCents, channel, expression },
    leftCents: own === null ? null : bendCents - wanted,
  };
}

/** FluidSynth's dry sound of them, 48 kHz; begins at 0 s. */
export function playSounds(
  folder: string,
  name: string,
  sounds: readonly Sound[],
  reeds: Reeds,
): Float32Array {
  const notes = sounds
    .toSorted((a, b) => a.onSeconds - b.onSeconds)
    .map((sound, place) => voiced(sound, place, reeds).note);
  return readSound(playRecordedHarmonica(folder, name, notes, GAIN)).samples;
}
