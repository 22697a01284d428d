import { gaussian, type Random, seededRandom } from "../../../../core/exercise/seeded-random.ts";
import type { Recipe } from "./recipes.ts";
import { noiseUnder, throughLaptop, throughRoom } from "./room.ts";
import { HOP_SECONDS, midiHz, SAMPLE_RATE_HZ, type TrueLeak, type TrueNote, type Truth } from "./truth.ts";

/** RMS of the sustained tone: -20 dBFS. */
export const TONE_RMS = 0.1;
/** A note dies away within this after its end. */
const RELEASE_SECONDS = 0.02;
const TAIL_SECONDS = 0.03;
const LEAK_INTERVALS = [-5, -4, -3, 3, 4, 5] as const;

/** Something as it changes with the time in seconds. */
type Course = (seconds: number) => number;

export interface Take {
  readonly samples: Float64Array;
  readonly truth: Truth;
}

/**
 * Makes a take of a free reed: partials 1/n^0.7 (free reeds have many strong harmonics that fall off slowly: Cottingham,
 * "Free-reed instruments", 2013) with random phases up to 16 kHz, at most 40.
 */
export function syntheticTake(recipe: Recipe): Take {
  const random = seededRandom(recipe.seed);
  const gauss = gaussian(random);
  const end = (recipe.notes.at(-1)?.off ?? 0) + 1;
  const dry = new Float64Array(Math.ceil(end * SAMPLE_RATE_HZ));
  const breath = new Float64Array(dry.length);
  const frames = Math.floor(end / HOP_SECONDS);
  const f0 = new Float64Array(frames);
  const loudness = new Float64Array(frames);
  const notes: TrueNote[] = [];
  for (const written of recipe.notes) {
    const played = soundNote(dry, written, recipe, random);
    notes.push(played.note);
    if (recipe.breathDb !== null) followLoudest(breath, played.envelope, written, SAMPLE_RATE_HZ);
    noteTruth(f0, loudness, written, played);
  }
  if (recipe.breathDb !== null) addBreath(dry, breath, recipe.breathDb, gauss);
  const inRoom = recipe.rt60Seconds === null ? dry : throughRoom(dry, recipe.rt60Seconds, gauss);
  const heard = throughLaptop(inRoom, recipe, TONE_RMS);
  noiseUnder(heard, recipe, TONE_RMS, gauss);
  const { name, group } = recipe;
  return {
    samples: heard,
    truth: {
      name,
      group,
      notes,
      f0: Array.from(f0, (hz) => Number(hz.toFixed(4))),
      // A note sounds while its envelope is at least -20 dB; below -40 dB it is silent.
      voiced: Array.from(loudness, (share) => (share >= 0.1 ? 1 : share < 0.01 ? 0 : -1)),
    },
  };
}

interface Played {
  readonly note: TrueNote;
  readonly pitchHz: Course;
  readonly envelope: Course;
}

type Span = { readonly on: number; readonly off: number; readonly midi: number };

/** Adds one note, with its second reed where it has one. The order of the drawn numbers is part of the corpus. */
function soundNote(into: Float64Array, written: Span, recipe: Recipe, random: Random): Played {
  const { detuneCents, attackSeconds, leakDb } = recipe;
  const cents = detuneCents > 0 ? Math.round((random() * 2 - 1) * detuneCents * 10) / 10 : 0;
  const attack = attackSeconds ?? 0.015 + random() * 0.025;
  const phase = random() * 6.28;
  const pitchHz = pitchCourse(written, cents, phase, recipe);
  const envelope = envelopeCourse(written, attack, phase, recipe.tremolo);
  addTone(into, written, pitchHz, envelope, random, 1);
  if (leakDb === null) return { note: { ...written, cents }, pitchHz, envelope };
  const leak = drawLeak(written.midi, leakDb, random);
  const leaky = recipe.leakAll || random() < 0.5;
  if (leaky) {
    const hz = midiHz(leak.midi) * 2 ** (leak.cents / 1200);
    addTone(into, { ...written, midi: leak.midi }, () => hz, envelope, random, 10 ** (leakDb / 20));
  }
  return { note: { ...written, cents, leak: leaky ? leak : null }, pitchHz, envelope };
}

function drawLeak(midi: number, db: number, random: Random): TrueLeak {
  const interval = LEAK_INTERVALS[Math.floor(random() * 6)] ?? 3;
  return { midi: midi + interval, cents: (random() * 2 - 1) * 10, db };
}

function pitchCourse(written: Span, cents: number, phase: number, recipe: Recipe): Course {
  const hz = midiHz(written.midi) * 2 ** (cents / 1200);
  const { scoopCents, vibratoCents } = recipe;
  return (at) => {
    const since = at - written.on;
    let off = 0;
    if (scoopCents) off -= scoopCents * Math.exp(-since / 0.02) * (since < 0.1 ? 1 : 0);
    if (vibratoCents) off += vibratoCents * Math.sin(2 * Math.PI * 5.5 * since + phase);
    return hz * 2 ** (off / 1200);
  };
}

function envelopeCourse(written: Span, attack: number, phase: number, tremolo: boolean): Course {
  return (at) => {
    const release = at < written.off ? 1 : 1 - cosineRamp((at - written.off) / RELEASE_SECONDS);
    const level = cosineRamp((at - written.on) / attack) * release;
    if (!tremolo) return level;
    return level * (1 - 0.35 + 0.35 * Math.sin(2 * Math.PI * 5 * (at - written.on) + phase));
  };
}

const cosineRamp = (u: number) => (u <= 0 ? 0 : u >= 1 ? 1 : 0.5 - 0.5 * Math.cos(Math.PI * u));

/** Strengths of the partials of a tone, n = 1, 2, …: 1/n^0.7 up to 16 kHz, at most 40. */
export function partials(hz: number): number[] {
  const count = Math.max(1, Math.min(40, Math.floor(16000 / hz)));
  return Array.from({ length: count }, (_, k) => (k + 1) ** -0.7);
}

function addTone(
  into: Float64Array,
  { on, off, midi }: Span,
  pitchHz: Course,
  envelope: Course,
  random: Random,
  gain: number,
): void {
  const strengths = partials(midiHz(midi));
  const phases = strengths.map(() => 2 * Math.PI * random());
  let power = 0;
  for (const strength of strengths) power += (strength * strength) / 2;
  const scale = (gain * TONE_RMS) / Math.sqrt(power);
  const amplitudes = strengths.map((strength) => strength * scale);
  const from = Math.round(on * SAMPLE_RATE_HZ);
  const to = Math.min(into.length, Math.round((off + TAIL_SECONDS) * SAMPLE_RATE_HZ));
  let turn = 0;
  for (let i = from; i < to; i++) {
    const at = i / SAMPLE_RATE_HZ;
    const level = envelope(at);
    turn += (2 * Math.PI * pitchHz(at)) / SAMPLE_RATE_HZ;
    if (level <= 0) continue;
    let value = 0;
    for (let k = 0; k < amplitudes.length; k++) {
      value += (amplitudes[k] as number) * Math.sin((k + 1) * turn + (phases[k] as number));
    }
    into[i] = (into[i] as number) + level * value;
  }
}

/** Raises each value to the note's envelope where that is stronger. */
function followLoudest(into: Float64Array, envelope: Course, { on, off }: Span, rateHz: number): void {
  const to = Math.min(into.length, (off + TAIL_SECONDS) * rateHz);
  for (let i = Math.round(on * rateHz); i < to; i++) {
    into[i] = Math.max(into[i] as number, envelope(i / rateHz));
  }
}

function noteTruth(f0: Float64Array, loudness: Float64Array, { on, off }: Span, played: Played): void {
  const last = (off + TAIL_SECONDS) / HOP_SECONDS;
  for (let i = Math.ceil(on / HOP_SECONDS); i <= last && i < f0.length; i++) {
    const at = i * HOP_SECONDS;
    const level = played.envelope(at);
    if (level <= (loudness[i] as number)) continue;
    loudness[i] = level;
    f0[i] = played.pitchHz(at);
  }
}

/** Noise between two one-pole low-passes, as loud as the envelope: the breath in the channel. */
function addBreath(into: Float64Array, envelope: Float64Array, db: number, gauss: Random): void {
  const gain = TONE_RMS * 10 ** (db / 20) * 1.6;
  let fast = 0;
  let slow = 0;
  for (let i = 0; i < into.length; i++) {
    const white = gauss();
    fast += 0.55 * (white - fast);
    slow += 0.12 * (white - slow);
    into[i] = (into[i] as number) + gain * (fast - slow) * (envelope[i] as number);
  }
}
