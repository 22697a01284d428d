import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import path from "node:path";
import { type MidiNote, midiBytes } from "./midi-bytes.ts";
import { hasTool, soundFontPath } from "./tools.ts";

/** General MIDI program 23, harmonica, counted from 0. */
const HARMONICA = 22;

const font = soundFontPath();

/** Programs and data that FluidSynth takes need and that are not installed. */
export const missingForFluidsynth: readonly string[] = [
  ...(hasTool("fluidsynth") ? [] : ["fluidsynth"]),
  ...(font === null ? ["fluid-soundfont-gm"] : []),
];

/**
 * Renders notes with the recorded harmonica of the FluidR3 SoundFont: 48 kHz, 16 bits, no reverberation or chorus.
 * Its samples end at C7, MIDI 96: keys above that are silent.
 *
 * @param gain      of FluidSynth, 0..10
 * @param soundFont another SoundFont with a harmonica, by its path
 * @returns path of the WAV file in `folder`
 * @throws Error if the SoundFont is not installed or FluidSynth fails
 */
export function playRecordedHarmonica(
  folder: string,
  name: string,
  notes: readonly MidiNote[],
  gain = 0.6,
  soundFont: string | null = font,
): string {
  if (soundFont === null) throw new Error("fluid-soundfont-gm is not installed");
  const midi = path.join(folder, `${name}.mid`);
  const wav = path.join(folder, `${name}.wav`);
  writeFileSync(midi, midiBytes(HARMONICA, notes));
  // Samples are read as they are needed: the whole font would take longer than the notes.
  const dry = ["-R", "0", "-C", "0", "-g", String(gain), "-o", "synth.dynamic-sample-loading=1"];
  const format = ["-r", "48000", "-O", "s16", "-T", "wav"];
  execFileSync("fluidsynth", ["-ni", "-q", ...dry, ...format, "-F", wav, soundFont, midi], {
    stdio: "ignore",
  });
  return wav;
}
