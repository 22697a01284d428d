import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, realpathSync } from "node:fs";
import path from "node:path";

/** A SoundFont on this machine, and which of the programs asked for it has. */
export interface SoundFont {
  /** File name without its ending; names the takes. */
  readonly name: string;
  readonly file: string;
}

/** General MIDI programs counted from 0. */
export const HARMONICA = 22;
export const ACCORDION = 21;

const USUAL_FOLDERS = ["/usr/share/sounds/sf2", "/usr/share/sounds/sf3", "/usr/share/soundfonts"];

/** SoundFonts where Linux packages put them, each once however many names it has. */
export function installedSoundFonts(): SoundFont[] {
  const files = USUAL_FOLDERS.filter((folder) => existsSync(folder)).flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => /\.sf[23]$/i.test(name))
      .map((name) => realpathSync(path.join(folder, name))),
  );
  return [...new Set(files)].sort().map(soundFont);
}

export const soundFont = (file: string): SoundFont => ({
  name: path
    .basename(file)
    .replace(/\.[^.]*$/, "")
    .replaceAll(/[^\w-]/g, "-"),
  file,
});

/**
 * The programs of bank 0. FluidSynth plays another program where one is missing, so it has to be asked beforehand.
 *
 * @returns null if the file is no SoundFont
 *
 * Source: SoundFont Technical Specification 2.04 (2006), section 7.2: `phdr` has 38 bytes a preset, program at 20, bank at
 * 22, and a last record that only ends the list.
 */
export function melodicPrograms(file: string): ReadonlySet<number> | null {
  const bytes = readFileSync(file);
  if (bytes.toString("latin1", 0, 4) !== "RIFF" || bytes.toString("latin1", 8, 12) !== "sfbk") return null;
  const programs = new Set<number>();
  for (let at = 12; at + 12 <= bytes.length; ) {
    const length = bytes.readUInt32LE(at + 4);
    if (bytes.toString("latin1", at + 8, at + 12) === "pdta") {
      for (let from = at + 12; from + 8 <= at + 8 + length; ) {
        const size = bytes.readUInt32LE(from + 4);
        if (bytes.toString("latin1", from, from + 4) === "phdr") {
          for (let preset = from + 8; preset + 76 <= from + 8 + size; preset += 38) {
            if (bytes.readUInt16LE(preset + 22) === 0) programs.add(bytes.readUInt16LE(preset + 20));
          }
        }
        from = afterChunk(bytes, from, size);
      }
    }
    at = afterChunk(bytes, at, length);
  }
  return programs;
}

/** RIFF pads chunks of odd length with a zero; writers of compressed SoundFonts (sf3) leave it out. */
function afterChunk(bytes: Buffer, at: number, length: number): number {
  const end = at + 8 + length;
  return length % 2 === 1 && bytes[end] === 0 ? end + 1 : end;
}

/** Version line of the FluidSynth on the path; null where there is none. */
export function fluidsynthVersion(): string | null {
  const asked = spawnSync("fluidsynth", ["--version"], { encoding: "utf8" });
  return asked.status === 0 ? (/version ([\d.]+)/.exec(asked.stdout)?.[1] ?? "of unknown version") : null;
}
