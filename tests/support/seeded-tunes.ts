import { type Random, seededRandom } from "../../core/exercise/seeded-random.ts";
import { noteName, pitchClassOfName } from "../../core/pitch/note-names.ts";
import type { Tune } from "../../core/tune/tune.ts";
import { type Midi, midi } from "../../core/units.ts";
import { type BarText, tuneOf } from "./small-tunes.ts";

/** Signature and home note of session tunes, about as often as in O'Neill 1903: [F74] +1 43 %, +2 31 %, +3 14 %, 0 8 %. */
const KEYS = [
  { tonic: "G", major: "G", share: 0.3 },
  { tonic: "D", major: "D", share: 0.55 },
  { tonic: "A", major: "A", share: 0.68 },
  { tonic: "E", major: "G", share: 0.78 },
  { tonic: "A", major: "G", share: 0.84 },
  { tonic: "D", major: "G", share: 0.88 },
  { tonic: "E", major: "D", share: 0.92 },
  { tonic: "A", major: "D", share: 0.95 },
  { tonic: "A", major: "C", share: 1 },
] as const;
const MAJOR = [0, 2, 4, 5, 7, 9, 11];
const [LOWEST, HIGHEST] = [60, 83];

/** Made-up reels in playing order: two strains of eight bars, each twice, mostly by step within C4 to B5, a bar now and then again. */
export function seededTunes(count: number, seed: number): readonly Tune[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, (_, index) => seededTune(random, index + 1));
}

function seededTune(random: Random, number: number): Tune {
  const chance = random();
  const key = KEYS.find((one) => chance < one.share) ?? KEYS[0];
  const root = pitchClassOfName(key.major) ?? 0;
  const scale: Midi[] = [];
  for (let note = LOWEST; note <= HIGHEST; note++)
    if (MAJOR.includes((note - root + 12) % 12)) scale.push(midi(note));
  const written: string[] = [];
  let at = Math.floor(scale.length / 2);
  for (let bar = 0; bar < 16; bar++) {
    const again = bar % 8 >= 4 && random() < 0.5 ? written[bar - 4] : undefined;
    const notes = Array.from({ length: 8 }, () => {
      const jump = random() < 0.2 ? 5 : 2;
      at = Math.min(scale.length - 1, Math.max(0, at + Math.round((random() - 0.5) * 2 * jump)));
      return noteName(scale[at] ?? midi(LOWEST), ["C#", "F#", "G#"]);
    });
    written.push(again ?? notes.join(" "));
  }
  const order = [0, 0, 8, 8].flatMap((from) => Array.from({ length: 8 }, (_, bar) => from + bar));
  const bars = order.map((bar): BarText => ({ written: bar, notes: written[bar] ?? "z:8" }));
  return tuneOf(bars, { number, key: { tonic: key.tonic, mode: null, signature: {}, sure: true } });
}
