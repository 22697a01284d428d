import { spawnSync } from "node:child_process";
import { rmSync, writeFileSync } from "node:fs";
import { type Random, seededRandom } from "../../../../core/exercise/seeded-random.ts";
import { type BentNote, bendMidi } from "./bend-midi.ts";
import { ACCORDION, HARMONICA, type SoundFont } from "./soundfont.ts";
import { HOP_SECONDS, midiHz, SAMPLE_RATE_HZ, type Truth } from "./truth.ts";
import { readSound, writeSound } from "./wav-file.ts";

/** A take of recorded reeds: which font and program play what. */
export interface RecordedRecipe {
  readonly name: string;
  readonly group: string;
  readonly font: SoundFont;
  readonly program: number;
  readonly notes: readonly BentNote[];
}

const INSTRUMENTS = [
  { program: HARMONICA, tag: "harm", lowest: 60, highest: 96 },
  { program: ACCORDION, tag: "acc", lowest: 55, highest: 93 },
] as const;
type Instrument = (typeof INSTRUMENTS)[number];

const BENDS_CENTS = [0, -37, -12, 8, 23, 50] as const;
const TEMPI = [
  { tag: "250", noteSeconds: 0.25, count: 80 },
  { tag: "125", noteSeconds: 0.125, count: 120 },
] as const;
const MAJOR = [0, 2, 4, 5, 7, 9, 11];
/** The seed whose melodies are those of the first corpus. */
const USUAL_SEED = 1000;

/** The takes of one font whose programs are there: bends of every fourth semitone, and a melody at each tempo. */
export function recordedRecipes(
  font: SoundFont,
  programs: ReadonlySet<number>,
  seed: number,
): RecordedRecipe[] {
  return INSTRUMENTS.filter(({ program }) => programs.has(program)).flatMap((instrument) => {
    const { program, tag } = instrument;
    const named = (kind: string, notes: readonly BentNote[]) => ({
      name: `sf_${font.name}_${tag}_${kind}`,
      group: `sf ${tag} ${kind}`,
      font,
      program,
      notes,
    });
    const melodies = TEMPI.map((tempo) => {
      const random = seededRandom(77 + program + tempo.noteSeconds * 1000 + seed - USUAL_SEED);
      return named(tempo.tag, recordedMelody(random, instrument, tempo));
    });
    return [named("bend", bends(instrument)), ...melodies];
  });
}

function bends({ lowest, highest }: Instrument): BentNote[] {
  const notes: BentNote[] = [];
  let at = 1;
  for (let midi = lowest; midi <= highest; midi += 4) {
    for (const bend of BENDS_CENTS) {
      notes.push({ on: at, off: at + 0.5, midi, bend });
      at += 0.6;
    }
  }
  return notes;
}

function recordedMelody(
  random: Random,
  { lowest, highest }: Instrument,
  { noteSeconds, count }: (typeof TEMPI)[number],
): BentNote[] {
  const notes: BentNote[] = [];
  let at = 1;
  let midi: number = lowest + 12;
  for (let place = 0; place < count; place++, at += noteSeconds) {
    if (random() < 0.08) continue;
    let next: number;
    do next = midi + Math.round((random() - 0.5) * 10);
    while (next < lowest || next > highest || !MAJOR.includes(next % 12));
    const last = notes.at(-1);
    if (last?.midi === next) notes[notes.length - 1] = { ...last, off: Math.min(last.off, at - 0.03) };
    notes.push({ on: at, off: at + noteSeconds - 0.005, midi: next, bend: 0 });
    midi = next;
  }
  return notes;
}

/**
 * Has FluidSynth play a recipe, dry, and writes the take.
 *
 * @param base path of the files without their endings
 * @throws Error if FluidSynth fails
 */
export function recordTake(recipe: RecordedRecipe, base: string): Truth {
  const midi = `${base}.mid`;
  const raw = `${base}.raw.wav`;
  writeFileSync(midi, bendMidi(recipe.program, recipe.notes));
  const dry = ["-R", "0", "-C", "0", "-g", "0.6"];
  const format = ["-r", String(SAMPLE_RATE_HZ), "-O", "s16", "-T", "wav"];
  const args = ["-ni", "-q", ...dry, ...format, "-F", raw, recipe.font.file, midi];
  const done = spawnSync("fluidsynth", args, { encoding: "utf8" });
  if (done.status !== 0) throw new Error(`fluidsynth could not play ${recipe.name}: ${done.stderr.trim()}`);
  const { samples } = readSound(raw);
  rmSync(raw);
  rmSync(midi);
  writeSound(`${base}.wav`, samples);
  return truthOf(recipe, samples);
}

function truthOf({ name, group, notes }: RecordedRecipe, samples: Float32Array): Truth {
  const frames = Math.floor(samples.length / SAMPLE_RATE_HZ / HOP_SECONDS);
  const f0 = new Array<number>(frames).fill(0);
  const voiced = new Array<1 | 0 | -1>(frames).fill(0);
  const power = (frame: number) => framePower(samples, frame);
  for (const { on, off, midi, bend } of notes) {
    const from = Math.ceil(on / HOP_SECONDS);
    let peak = 0;
    for (let i = from; i < off / HOP_SECONDS && i < frames; i++) peak = Math.max(peak, power(i));
    for (let i = from; i < Math.min(frames, off / HOP_SECONDS); i++) {
      f0[i] = Number((midiHz(midi) * 2 ** (bend / 1200)).toFixed(4));
      voiced[i] = power(i) > peak * 0.01 ? 1 : -1;
    }
    // The samples ring on after the note is let go.
    const last = Math.min(frames, (off + 0.15) / HOP_SECONDS);
    for (let i = Math.floor(off / HOP_SECONDS); i < last; i++) if (!f0[i]) voiced[i] = -1;
  }
  return { name, group, notes: notes.map((note) => ({ ...note, cents: note.bend })), f0, voiced };
}

/** Mean square of the 10 ms around a frame. */
function framePower(samples: Float32Array, frame: number): number {
  const middle = Math.round(frame * HOP_SECONDS * SAMPLE_RATE_HZ);
  let sum = 0;
  for (let i = Math.max(0, middle - 240); i < middle + 240 && i < samples.length; i++) {
    sum += (samples[i] as number) ** 2;
  }
  return sum / 480;
}
