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
 *
 * @returns path of the WAV file in `folder`
 */
export function playRecordedHarmonica(folder: string, name: string, notes: readonly MidiNote[]): string {
  if (font === null) throw new Error("fluid-soundfont-gm is not installed");
  const midi = path.join(folder, `${name}.mid`);
  const wav = path.join(folder, `${name}.wav`);
  writeFileSync(midi, midiBytes(HARMONICA, notes));
  const dry = ["-R", "0", "-C", "0", "-g", "0.6"];
  const format = ["-r", "48000", "-O", "s16", "-T", "wav"];
  execFileSync("fluidsynth", ["-ni", "-q", ...dry, ...format, "-F", wav, font, midi], { stdio: "ignore" });
  return wav;
}
