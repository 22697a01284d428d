import { connect } from "tone/build/esm/core/context/ToneAudioNode.js";
import { Synth } from "tone/build/esm/instrument/Synth.js";
import {
  countInSeconds,
  type Exercise,
  lengthOf,
  onsetOf,
  playingSeconds,
  targetHz,
} from "../../core/exercise/exercise.ts";
import { beatsToSeconds } from "../../core/exercise/tempo.ts";
import { REED_HARMONICS, RELEASE_SECONDS } from "../../core/simulate/reed-voice.ts";
import type { Beats } from "../../core/units.ts";
import { soundContext, wakeSound } from "./sound-context.ts";

export interface ReferenceOptions {
  /** Whether the notes sound, or only the beat. */
  readonly notes: boolean;
  readonly metronome: "all" | "count-in" | "none";
  readonly countIn: boolean;
  /** Told each beat as it sounds: negative in the count-in, 0 for the first beat of the exercise. */
  readonly onBeat?: (beat: number) => void;
  /** Told the index of each note as its time comes, and null after the last. */
  readonly onNote?: (index: number | null) => void;
  /** Told once, when the last note's time is over. */
  readonly onEnd?: () => void;
}

/** An exercise being sounded. */
export interface Sounding {
  /** When beat 0 sounds, in seconds of the sound context's clock. */
  readonly beatZeroSeconds: number;
  /** Silences everything at once. */
  stop(): void;
}

export interface Reference {
  play(exercise: Exercise, options: ReferenceOptions): Promise<Sounding>;
}

/** Time to set everything up before the first sound. */
const LEAD_SECONDS = 0.15;
/** A reed stops a moment before the next speaks. */
const GAP_SECONDS = 0.015;
const FADE_SECONDS = 0.01;
/** How often the clock is read for the picture. */
const LOOK_MS = 15;
const ACCENT_HZ = 1760;
const BEAT_HZ = 1320;

/** The reference on Tone.js: a reed-like voice and a metronome. */
export function createReference(): Reference {
  return {
    async play(exercise, options) {
      const { context } = soundContext();
      await wakeSound();
      const lead = options.countIn ? countInSeconds(exercise) : 0;
      const beatZeroSeconds = context.currentTime + LEAD_SECONDS + lead;
      const voices = new Voices();
      if (options.notes) soundNotes(voices, exercise, beatZeroSeconds);
      soundBeats(voices, exercise, options, beatZeroSeconds);
      const endPicture = followClock(exercise, options, beatZeroSeconds);
      return {
        beatZeroSeconds,
        stop() {
          endPicture();
          voices.silence();
        },
      };
    },
  };
}

/** The instruments of one sounding, all behind one gain that can shut them up. */
class Voices {
  private readonly door: GainNode;
  // One voice: a harp drill sounds one note at a time, and a polyphonic voice scheduled ahead stacks its notes.
  readonly reed = new Synth({
    oscillator: { type: "custom", partials: [...REED_HARMONICS] },
    envelope: { attack: 0.02, decay: 0.01, sustain: 1, release: RELEASE_SECONDS },
  });
  readonly click = new Synth({
    oscillator: { type: "triangle" },
    envelope: { attack: 0.001, decay: 0.03, sustain: 0, release: 0.01 },
  });

  constructor() {
    const { context, output } = soundContext();
    this.door = context.createGain();
    this.door.connect(output);
    connect(this.reed, this.door);
    connect(this.click, this.door);
  }

  silence(): void {
    const { context } = soundContext();
    this.door.gain.setTargetAtTime(0, context.currentTime, FADE_SECONDS / 3);
    setTimeout(
      () => {
        this.reed.dispose();
        this.click.dispose();
        this.door.disconnect();
      },
      20 * FADE_SECONDS * 1000,
    );
  }
}

function soundNotes(voices: Voices, exercise: Exercise, beatZero: number): void {
  for (const note of exercise.notes) {
    const length = Math.max(0.03, lengthOf(exercise, note) - GAP_SECONDS - RELEASE_SECONDS);
    voices.reed.triggerAttackRelease(targetHz(exercise, note), length, beatZero + onsetOf(exercise, note));
  }
}

function soundBeats(voices: Voices, exercise: Exercise, options: ReferenceOptions, beatZero: number): void {
  for (const beat of soundedBeats(exercise, options)) {
    const accent = ((beat % exercise.beatsPerBar) + exercise.beatsPerBar) % exercise.beatsPerBar === 0;
    const at = beatZero + beatsToSeconds(beat as Beats, exercise.tempo);
    voices.click.triggerAttackRelease(accent ? ACCENT_HZ : BEAT_HZ, 0.03, at, accent ? 1 : 0.6);
  }
}

function soundedBeats(exercise: Exercise, options: ReferenceOptions): readonly number[] {
  return allBeats(exercise, options).filter(
    (beat) => options.metronome === "all" || (options.metronome === "count-in" && beat < 0),
  );
}

/** Every beat from the count-in, if there is one, to the end. */
function allBeats(exercise: Exercise, options: ReferenceOptions): readonly number[] {
  const first = options.countIn ? -exercise.countInBeats : 0;
  const end = (playingSeconds(exercise) * exercise.tempo.bpm) / 60;
  return Array.from({ length: Math.max(0, Math.ceil(end - 1e-9) - first) }, (_, n) => first + n);
}

/** Calls back in step with the sound: reads the clock that schedules it, delayed by what the output adds. */
function followClock(exercise: Exercise, options: ReferenceOptions, beatZero: number): () => void {
  const { context } = soundContext();
  const due = dueCalls(exercise, options).sort((a, b) => a.atSeconds - b.atSeconds);
  const timer = setInterval(() => {
    const heard = context.currentTime - (context.outputLatency || 0) - beatZero;
    for (let next = due[0]; next !== undefined && next.atSeconds <= heard; next = due[0]) {
      due.shift();
      next.call();
    }
    if (due.length === 0) clearInterval(timer);
  }, LOOK_MS);
  return () => {
    due.length = 0;
    clearInterval(timer);
  };
}

interface DueCall {
  /** Counted from beat 0. */
  readonly atSeconds: number;
  readonly call: () => void;
}

function dueCalls(exercise: Exercise, options: ReferenceOptions): DueCall[] {
  const end = playingSeconds(exercise);
  return [
    ...allBeats(exercise, options).map((beat) => ({
      atSeconds: beatsToSeconds(beat as Beats, exercise.tempo) as number,
      call: () => options.onBeat?.(beat),
    })),
    ...exercise.notes.map((note) => ({
      atSeconds: onsetOf(exercise, note) as number,
      call: () => options.onNote?.(note.index),
    })),
    { atSeconds: end, call: () => options.onNote?.(null) },
    { atSeconds: end, call: () => options.onEnd?.() },
  ];
}
