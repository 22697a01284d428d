import { connect } from "tone/build/esm/core/context/ToneAudioNode.js";
import { MembraneSynth } from "tone/build/esm/instrument/MembraneSynth.js";
import { Synth } from "tone/build/esm/instrument/Synth.js";
import { REED_HARMONICS, RELEASE_SECONDS } from "../../core/simulate/reed-voice.ts";
import type { Hz } from "../../core/units.ts";
import { type Beat, chosenBeat } from "./beat-sound.ts";
import { soundContext } from "./sound-context.ts";

/** Of each instrument: reed and beat together stay below full scale at any loudness. */
const HALF_DB = -6.1;
/** A reed stops a moment before the next speaks. */
const GAP_SECONDS = 0.015;
const SHORTEST_NOTE_SECONDS = 0.03;
const FADE_SECONDS = 0.01;
/** Tone.js clears up after each note a little later; its instruments may not be gone by then. */
const CLEAR_UP_SECONDS = 1;

const BEAT_VELOCITY = 0.6;
/** Pitches above the middle of a harp, and short: what the microphone catches of them is no note. */
const BEATS = {
  click: { beatHz: 1320, barHz: 1760, lengthSeconds: 0.03 },
  wood: { beatHz: 740, barHz: 988, lengthSeconds: 0.05 },
  tone: { beatHz: 1320, barHz: 1760, lengthSeconds: 0.06 },
} as const;

function beatVoice({ sound }: Beat): Synth {
  const { lengthSeconds: decay } = BEATS[sound];
  if (sound === "wood") {
    // Struck wood: a tone that falls as it begins and is gone at once.
    return new MembraneSynth({
      volume: HALF_DB,
      pitchDecay: 0.006,
      octaves: 1,
      oscillator: { type: "sine" },
      envelope: { attack: 0.001, decay, sustain: 0, release: 0.01 },
    });
  }
  return new Synth({
    volume: HALF_DB,
    oscillator: { type: sound === "click" ? "triangle" : "sine" },
    envelope: { attack: sound === "click" ? 0.001 : 0.004, decay, sustain: 0, release: 0.01 },
  });
}

/** The instruments of one sounding, all behind one gain that can shut them up. Times are the sound context's. */
export class ReferenceVoices {
  private readonly door: GainNode;
  private isSilenced = false;
  private lastEndSeconds = 0;
  // One voice: a harp drill sounds one note at a time, and a polyphonic voice scheduled ahead stacks its notes.
  private readonly reed = new Synth({
    volume: HALF_DB,
    oscillator: { type: "custom", partials: [...REED_HARMONICS] },
    envelope: { attack: 0.02, decay: 0.01, sustain: 1, release: RELEASE_SECONDS },
  });
  private readonly beat: Beat = chosenBeat();
  private readonly click = beatVoice(this.beat);

  /** @param share of full loudness, 0 to 1: for one of several that sound together */
  constructor(share = 1) {
    const { context, output } = soundContext();
    this.door = context.createGain();
    this.door.gain.value = share;
    this.door.connect(output);
    connect(this.reed, this.door);
    connect(this.click, this.door);
  }

  soundNote(pitch: Hz, atSeconds: number, lengthSeconds: number): void {
    const held = Math.max(SHORTEST_NOTE_SECONDS, lengthSeconds - GAP_SECONDS - RELEASE_SECONDS);
    this.reed.triggerAttackRelease(pitch, held, atSeconds);
    this.lastEndSeconds = Math.max(this.lastEndSeconds, atSeconds + lengthSeconds);
  }

  soundBeat(isAccented: boolean, atSeconds: number): void {
    const { sound, stressed } = this.beat;
    const isStressed = isAccented && stressed;
    const { beatHz, barHz, lengthSeconds } = BEATS[sound];
    this.click.triggerAttackRelease(
      isStressed ? barHz : beatHz,
      lengthSeconds,
      atSeconds,
      isStressed ? 1 : BEAT_VELOCITY,
    );
    this.lastEndSeconds = Math.max(this.lastEndSeconds, atSeconds + lengthSeconds);
  }

  /** Fades within a few milliseconds, so that it does not crack, and for good. */
  silence(): void {
    if (this.isSilenced) return;
    this.isSilenced = true;
    const { context } = soundContext();
    this.door.gain.setTargetAtTime(0, context.currentTime, FADE_SECONDS / 3);
    setTimeout(() => this.door.disconnect(), 5 * FADE_SECONDS * 1000);
    const left = Math.max(0, this.lastEndSeconds - context.currentTime) + CLEAR_UP_SECONDS;
    // Behind Tone's own clearing up, which waits for the same idle moments.
    setTimeout(() => requestIdleCallback(() => this.dispose()), 1000 * left);
  }

  private dispose(): void {
    this.reed.dispose();
    this.click.dispose();
  }
}
