import {
  countInSeconds,
  type Exercise,
  type ExpectedNote,
  holesOf,
  lengthOf,
  onsetOf,
  playingSeconds,
  targetMidi,
} from "../exercise/exercise.ts";
import { gaussian, type Random, seededRandom } from "../exercise/seeded-random.ts";
import { reedNote } from "../instrument/harp.ts";
import { midiToHz } from "../pitch/equal-temperament.ts";
import { cents, type Midi, midi, type Seconds, seconds } from "../units.ts";
import type { Plant } from "./plants.ts";
import { attackSeconds, REED_HARMONICS, RELEASE_SECONDS } from "./reed-voice.ts";

/** A note the simulated player really sounds; seconds from the start of the take. */
export interface PlayedNote {
  /** The expected note it answers, or null for a note too many. */
  readonly index: number | null;
  readonly onSeconds: Seconds;
  readonly offSeconds: Seconds;
  /** Fractional, A4 = 440 Hz. */
  readonly midi: Midi;
}

export interface SimulatedTake {
  readonly sampleRateHz: number;
  /** Mono, -1..1; begins with the count-in as silence. */
  readonly samples: Float32Array;
  /** What was played, by onset: the truth to hold marks against. */
  readonly played: readonly PlayedNote[];
}

export interface SimulationSettings {
  readonly seed: number;
  readonly plants: readonly Plant[];
  readonly sampleRateHz: number;
}

/** Silence after the last note, so that its release is heard. */
const TAIL_SECONDS = 0.6;
/** A player stops one reed a moment before the next speaks. */
const GAP_SECONDS = 0.012;
/** RMS of a steady note, -20 dBFS, and of the breath noise under it, -65 dBFS. */
const TONE_RMS = 0.1;
const BREATH_RMS = 0.00056;
/** Room noise, -80 dBFS. */
const ROOM_RMS = 0.0001;

/**
 * A take of an exercise by a simulated player: every note on the beat and in tune except where a mistake is planted.
 *
 * The same exercise and settings give the same samples.
 */
export function simulateTake(exercise: Exercise, settings: SimulationSettings): SimulatedTake {
  const random = seededRandom(settings.seed);
  const played = playNotes(exercise, settings.plants);
  const end = countInSeconds(exercise) + playingSeconds(exercise) + TAIL_SECONDS;
  const samples = new Float32Array(Math.ceil(end * settings.sampleRateHz));
  for (const note of played) addNote(samples, settings.sampleRateHz, note, random);
  const noise = gaussian(random);
  for (let i = 0; i < samples.length; i++) samples[i] = (samples[i] ?? 0) + ROOM_RMS * noise();
  return { sampleRateHz: settings.sampleRateHz, samples, played };
}

/** What the player sounds, mistakes included, by onset. */
export function playNotes(exercise: Exercise, plants: readonly Plant[]): readonly PlayedNote[] {
  const lead = countInSeconds(exercise);
  const played = exercise.notes.flatMap((expected): readonly PlayedNote[] => {
    const plant = plants.find((candidate) => candidate.index === expected.index);
    const length = lengthOf(exercise, expected);
    const late = plant?.kind === "time" ? plant.offsetMs / 1000 : 0;
    const on = lead + onsetOf(exercise, expected);
    const right = targetMidi(exercise, expected);
    const whole = (pitch: number): PlayedNote => ({
      index: expected.index,
      onSeconds: seconds(on + late),
      offSeconds: seconds(on + length - GAP_SECONDS),
      midi: midi(pitch),
    });
    const besides = (expected.chord?.besides ?? []).map((reed) => targetMidi(exercise, reed));
    const all = [right, ...besides];
    if (plant?.kind === "missed") return [];
    if (plant?.kind === "wrong") return wrongReeds(exercise, expected, plant.midi).map(whole);
    if (plant?.kind === "pitch") return all.map((pitch) => whole(pitch + plant.offsetCents / 100));
    if (plant?.kind !== "extra") return all.map(whole);
    const middle = on + length / 2;
    return [
      ...all.map((pitch) => ({ ...whole(pitch), offSeconds: seconds(middle - GAP_SECONDS) })),
      { ...whole(plant.midi), index: null, onSeconds: seconds(middle) },
    ];
  });
  return stopBeforeNext(played);
}

/**
 * What sounds instead of a note. A chord whose lowest reed is another plain one of its breath moves there whole, as far as the
 * harp has reeds.
 */
function wrongReeds(exercise: Exercise, expected: ExpectedNote, lowest: number): readonly number[] {
  const { harp } = exercise;
  const { hole, breath } = expected.action;
  const holes = harp.layout.holes.map((_, place) => place + 1);
  const landed = holes.find((other) => reedNote(harp, other, breath) === lowest);
  if (expected.chord === undefined || landed === undefined) return [lowest];
  return holesOf(expected).flatMap((one) => {
    const note = reedNote(harp, one + landed - hole, breath);
    return note === null ? [] : [targetMidi(exercise, { midi: note, targetCents: cents(0) })];
  });
}

/** One mouth: what sounds ends before the next note begins, also when that one comes early; a chord's reeds end together. */
function stopBeforeNext(played: readonly PlayedNote[]): readonly PlayedNote[] {
  const byOnset = [...played].sort((a, b) => a.onSeconds - b.onSeconds);
  return byOnset.map((note, place) => {
    const next = byOnset.slice(place + 1).find((other) => other.onSeconds > note.onSeconds);
    if (next === undefined) return note;
    return { ...note, offSeconds: seconds(Math.min(note.offSeconds, next.onSeconds - GAP_SECONDS)) };
  });
}

function addNote(samples: Float32Array, rate: number, note: PlayedNote, random: Random): void {
  const frequency = midiToHz(note.midi);
  const partials = soundingPartials(frequency, rate, random);
  const breath = gaussian(random);
  const attack = attackSeconds(note.midi);
  const first = Math.round(note.onSeconds * rate);
  const last = Math.min(samples.length, Math.round((note.offSeconds + RELEASE_SECONDS) * rate));
  for (let i = Math.max(0, first); i < last; i++) {
    const time = i / rate;
    const level =
      raisedCosine((time - note.onSeconds) / attack) *
      raisedCosine((note.offSeconds + RELEASE_SECONDS - time) / RELEASE_SECONDS);
    const phase = 2 * Math.PI * frequency * (time - note.onSeconds);
    let tone = 0;
    for (const partial of partials)
      tone += partial.strength * Math.sin(partial.number * phase + partial.phase);
    samples[i] = (samples[i] ?? 0) + level * (tone + BREATH_RMS * breath());
  }
}

function soundingPartials(frequency: number, rate: number, random: Random) {
  const audible = REED_HARMONICS.filter((_, place) => (place + 1) * frequency < Math.min(16_000, rate / 2.2));
  const power = audible.reduce((sum, strength) => sum + (strength * strength) / 2, 0);
  const gain = TONE_RMS / Math.sqrt(power);
  return audible.map((strength, place) => ({
    number: place + 1,
    strength: strength * gain,
    phase: 2 * Math.PI * random(),
  }));
}

/** Smooth step from 0 at 0 to 1 at 1. */
function raisedCosine(share: number): number {
  if (share <= 0) return 0;
  return share >= 1 ? 1 : 0.5 - 0.5 * Math.cos(Math.PI * share);
}
