import { describe, expect, it } from "vitest";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import type { HeardNote } from "../../../core/listen/listening.ts";
import { noise, type Tone, take, waveforms } from "./signals.ts";

const RATE = 48_000;
const hzOf = (midi: number) => 440 * 2 ** ((midi - 69) / 12); // [calc] equal temperament, A4 = 440 Hz

/** Notes of a tune, one after another, each sounding until the next begins. */
function line(midis: readonly number[], seconds: number, dbfs = -20): Tone[] {
  return midis.map((midi, i) => ({
    onSeconds: 0.5 + i * seconds,
    offSeconds: 0.5 + (i + 1) * seconds - 0.012,
    hz: hzOf(midi),
    dbfs,
  }));
}

const lengthOf = (tones: readonly Tone[]) => (tones.at(-1)?.offSeconds ?? 0) + 0.5;

function add(samples: Float32Array, more: (i: number) => number): Float32Array {
  return samples.map((value, i) => value + more(i));
}

/** One heard note for each tone: right pitch within `cents`, attack within 15 ms, less than a tenth of a fast note. */
function expectHeard(notes: readonly HeardNote[], tones: readonly Tone[], cents: number): void {
  expect(notes.map(({ pitchMidi }) => Math.round(pitchMidi ?? 0))).toEqual(
    tones.map(({ hz }) => Math.round(69 + 12 * Math.log2(hz / 440))),
  );
  tones.forEach((tone, i) => {
    const note = notes[i] as HeardNote;
    expect(Math.abs(1200 * Math.log2(hzOf(note.pitchMidi ?? 0) / tone.hz))).toBeLessThan(cents);
    expect(Math.abs(note.onSeconds - tone.onSeconds)).toBeLessThan(0.015);
  });
}

describe("the pitch of one held note", () => {
  // From C3, the lowest reed of a low instrument, to G7; 0.1 cent is a twentieth of what the best ears notice.
  const pitches = [48, 55.3, 62, 69, 76.4, 84, 91, 96, 100, 103];
  for (const [name, waveform] of Object.entries(waveforms)) {
    it(`is right for a ${name} from C3 to G7 at every level`, () => {
      for (const dbfs of [-50, -30, -6]) {
        for (const midi of pitches) {
          const tones = [{ onSeconds: 0.3, offSeconds: 0.7, hz: hzOf(midi), dbfs, waveform }];
          const { notes } = listenToTake(take(RATE, 1, tones), RATE);
          expectHeard(notes, tones, 0.1);
        }
      }
    });
  }

  it.each([8000, 11_025, 16_000, 22_050, 32_000, 44_100, 48_000, 88_200, 96_000, 192_000])(
    "is right at %d samples a second",
    (rate) => {
      // 8 kHz carries only one harmonic of the highest reeds, hence up to C7 there.
      for (const midi of [48, 60, 71.4, 84, 96]) {
        const tones = [{ onSeconds: 0.3, offSeconds: 0.7, hz: hzOf(midi), dbfs: -20 }];
        const { notes, frames } = listenToTake(take(rate, 1, tones), rate);
        expectHeard(notes, tones, 0.1);
        const hop = (frames[1]?.atSeconds ?? 0) - (frames[0]?.atSeconds ?? 0);
        expect(Math.abs(hop - 0.005)).toBeLessThan(0.0001);
      }
    },
  );
});

describe("the octave of one held note", () => {
  // Mouth, hands and microphone weaken or strengthen single harmonics; the note stays the same.
  const voices: Readonly<Record<string, (k: number) => number>> = {
    "a fundamental 20 dB too weak": (k) => (k === 1 ? 0.1 : k ** -0.7),
    "no first and no second harmonic to speak of": (k) => (k < 3 ? 0.003 : k ** -0.7),
    "a second harmonic three times the first": (k) => (k === 2 ? 3 : k ** -0.7),
    "odd harmonics 10 dB too weak": (k) => (k % 2 === 1 ? 0.32 : 1) * k ** -0.5,
    "a resonance at the fifth harmonic": (k) => Math.exp(-((k - 5) ** 2) / 4),
  };
  for (const [name, waveform] of Object.entries(voices)) {
    it(`is right with ${name}`, () => {
      for (const midi of [48, 52, 55, 60, 64, 69, 74, 79, 84, 89, 94]) {
        const tones = [{ onSeconds: 0.3, offSeconds: 0.8, hz: hzOf(midi), dbfs: -20, waveform }];
        const hiss = noise(1.1 * RATE, 0.001, midi);
        const samples = add(take(RATE, 1.1, tones), (i) => hiss[i] as number);
        expectHeard(listenToTake(samples, RATE).notes, tones, 1);
      }
    });
  }
});

describe("notes of a tune", () => {
  // A reel quaver at minim 112 lasts 134 ms; 80 ms is a fast ornament.
  for (const seconds of [0.25, 0.134, 0.1]) {
    it(`are told apart at ${seconds * 1000} ms a note`, () => {
      const tones = line([60, 62, 64, 67, 69, 72, 71, 67, 84, 86, 79, 74, 76, 60], seconds);
      expectHeard(listenToTake(take(RATE, lengthOf(tones), tones), RATE).notes, tones, 0.5);
    });
  }

  it("are told apart when one reed is sounded again", () => {
    const tones = line([69, 69, 69, 74, 74, 62, 62], 0.16).map((tone) => ({
      ...tone,
      offSeconds: tone.offSeconds - 0.03,
    }));
    expectHeard(listenToTake(take(RATE, lengthOf(tones), tones), RATE).notes, tones, 0.5);
  });

  it("are told apart an octave up and down", () => {
    const tones = line([60, 72, 60, 72, 84, 96, 84, 72], 0.2);
    expectHeard(listenToTake(take(RATE, lengthOf(tones), tones), RATE).notes, tones, 0.5);
  });

  it("stay one note under a tremolo of 35 % at 5 Hz", () => {
    const tones = [{ onSeconds: 0.5, offSeconds: 1.9, hz: hzOf(74), dbfs: -20 }];
    const samples = take(RATE, 2.5, tones).map(
      (value, i) => value * (1 - 0.35 + 0.35 * Math.sin((2 * Math.PI * 5 * i) / RATE)),
    );
    expectHeard(listenToTake(samples, RATE).notes, tones, 0.5);
  });

  it("are heard through a neighbour reed at -12 dB", () => {
    const tones = line([67, 71, 74, 79], 0.25);
    const leaks = tones.map((tone) => ({ ...tone, hz: tone.hz * 2 ** (4 / 12), dbfs: tone.dbfs - 12 }));
    expectHeard(listenToTake(take(RATE, lengthOf(tones), [...tones, ...leaks]), RATE).notes, tones, 1);
  });

  it("that begin flat and rise to their pitch count as one, at the pitch they settle on", () => {
    const rate = RATE;
    const samples = new Float32Array(rate);
    let turn = 0;
    for (let i = 0.3 * rate; i < 0.6 * rate; i++) {
      const t = i / rate - 0.3;
      turn += (2 * Math.PI * 440 * 2 ** ((-120 * Math.exp(-t / 0.02)) / 1200)) / rate; // 120 cents flat at first
      for (let k = 1; k <= 12; k++) samples[i] = (samples[i] as number) + (0.05 / k) * Math.sin(k * turn);
    }
    const { notes } = listenToTake(samples, rate);
    expect(notes).toHaveLength(1);
    // Half a cent: after 100 ms the rise is down to 120 exp(-5) = 0.8 cent [calc].
    expect(Math.abs(100 * ((notes[0]?.pitchMidi ?? 0) - 69))).toBeLessThan(1);
  });
});

describe("a poor recording", () => {
  const tones = line([60, 64, 67, 72, 76, 79], 0.2);
  const clean = take(RATE, lengthOf(tones), tones);

  it("with noise 10 dB below the notes", () => {
    const hiss = noise(clean.length, 10 ** (-30 / 20), 3);
    expectHeard(
      listenToTake(
        add(clean, (i) => hiss[i] as number),
        RATE,
      ).notes,
      tones,
      1,
    );
  });

  it.each([50, 60])("with %d Hz mains hum at -20 dB", (hz) => {
    const hum = (i: number) => 0.014 * Math.sin((2 * Math.PI * hz * i) / RATE);
    expectHeard(listenToTake(add(clean, hum), RATE).notes, tones, 0.5);
  });

  it("with a constant offset", () => {
    expectHeard(
      listenToTake(
        add(clean, () => 0.2),
        RATE,
      ).notes,
      tones,
      0.1,
    );
  });

  it("that is clipped, and says how much of it is", () => {
    const loud = clean.map((value) => Math.max(-1, Math.min(1, 20 * value)));
    const { notes, clippedShare, peakDbfs } = listenToTake(loud, RATE);
    expectHeard(notes, tones, 0.5);
    expect(clippedShare).toBe(loud.filter((value) => Math.abs(value) === 1).length / loud.length);
    expect(clippedShare).toBeGreaterThan(0.1);
    expect(peakDbfs).toBeCloseTo(0, 6);
  });

  it("that is very quiet", () => {
    expectHeard(
      listenToTake(
        clean.map((value) => value * 10 ** (-30 / 20)),
        RATE,
      ).notes,
      tones,
      0.1,
    );
  });

  it("that begins and ends in the middle of a note", () => {
    const cut = clean.subarray(Math.round(0.6 * RATE), Math.round(1.6 * RATE));
    const { notes } = listenToTake(cut, RATE);
    expect(notes.map(({ pitchMidi }) => Math.round(pitchMidi ?? 0))).toEqual([60, 64, 67, 72, 76, 79]);
  });
});

describe("where no reed sounds", () => {
  it.each([
    ["silence", new Float32Array(RATE)],
    ["noise", noise(2 * RATE, 0.05, 11)],
    ["mains hum", new Float32Array(2 * RATE).map((_, i) => 0.1 * Math.sin((2 * Math.PI * 50 * i) / RATE))],
    ["a constant offset", new Float32Array(RATE).fill(0.3)],
    ["a click", new Float32Array(RATE).map((_, i) => (i === 20_000 ? 0.9 : 0))],
    ["nothing that is a number", new Float32Array(RATE).fill(Number.NaN)],
    ["no samples at all", new Float32Array(0)],
    ["a single sample", Float32Array.of(0.5)],
  ])("no note is heard: %s", (_name, samples) => {
    const { notes, frames } = listenToTake(samples, RATE);
    expect(notes).toEqual([]);
    expect(frames.length).toBeGreaterThan(0);
    expect(frames.some(({ voiced }) => voiced)).toBe(false);
  });

  it("the level of the room is told", () => {
    // At 24 kHz the whole band is measured; above 40 kHz only the half of it that reeds use.
    const { noiseFloorDbfs } = listenToTake(noise(48_000, 10 ** (-50 / 20), 5), 24_000);
    expect(Math.abs(noiseFloorDbfs - -50)).toBeLessThan(2); // the quietest window lies a little below the mean
  });
});

describe("what a note tells", () => {
  it("when it ended", () => {
    const tones = [{ onSeconds: 0.3, offSeconds: 0.8, hz: 523.25, dbfs: -20 }];
    const { notes } = listenToTake(take(RATE, 1.2, tones), RATE);
    // The release lasts 20 ms after offSeconds.
    expect(Math.abs((notes[0]?.offSeconds ?? 0) - 0.81)).toBeLessThan(0.02);
  });

  it("its level", () => {
    const tones = [{ onSeconds: 0.3, offSeconds: 0.8, hz: 523.25, dbfs: -23 }];
    expect(listenToTake(take(RATE, 1.2, tones), RATE).notes[0]?.levelDbfs).toBeCloseTo(-23, 0);
  });

  it("that it was too short to give a pitch", () => {
    const tones = [{ onSeconds: 0.3, offSeconds: 0.32, hz: 523.25, dbfs: -20, attackSeconds: 0.005 }];
    const { notes } = listenToTake(take(RATE, 0.8, tones), RATE);
    expect(notes.length).toBe(1);
    expect(notes[0]).toMatchObject({ pitchMidi: null, spreadCents: null, unreadable: "too short" });
  });

  it("that its pitch wavered: a vibrato of 20 cents has its middle right and a spread", () => {
    const samples = new Float32Array(1.5 * RATE);
    let turn = 0;
    for (let i = 0.3 * RATE; i < 1.2 * RATE; i++) {
      const bend = 20 * Math.sin((2 * Math.PI * 5.5 * i) / RATE);
      turn += (2 * Math.PI * 440 * 2 ** (bend / 1200)) / RATE;
      for (let k = 1; k <= 8; k++) samples[i] = (samples[i] as number) + (0.05 / k) * Math.sin(k * turn);
    }
    const { notes } = listenToTake(samples, RATE);
    expect(notes).toHaveLength(1);
    expect(Math.abs(100 * ((notes[0]?.pitchMidi ?? 0) - 69))).toBeLessThan(0.5);
    // [calc] The quartiles of a sine of amplitude 20 lie at +-20 sin(45 degrees), 28 apart; a window smooths it a little.
    expect(notes[0]?.spreadCents ?? 0).toBeGreaterThan(20);
    expect(notes[0]?.spreadCents ?? 0).toBeLessThan(30);
  });
});

it("a long note is held, not forgotten", () => {
  const tones = [{ onSeconds: 0.5, offSeconds: 9.5, hz: 440, dbfs: -20 }];
  expectHeard(listenToTake(take(24_000, 10, tones), 24_000).notes, tones, 0.1);
});

it("progress runs up to the whole", () => {
  const shares: number[] = [];
  listenToTake(new Float32Array(2.5 * RATE), RATE, (share) => shares.push(share));
  expect(shares).toEqual([0.4, 0.8, 1]);
});

it("a sample rate out of range is refused", () => {
  expect(() => listenToTake(new Float32Array(10), 4000)).toThrow(/4000 Hz/);
});

describe("a harmonic that outgrows its note", () => {
  it("makes no second note where the others sound on, as a room does to a held note", () => {
    const swell = { onSeconds: 0.9, offSeconds: 1.4, hz: hzOf(73 + 12 * Math.log2(3)), dbfs: -14 };
    const samples = take(RATE, 2.2, [
      { onSeconds: 0.5, offSeconds: 1.7, hz: hzOf(73), dbfs: -24 },
      // The third harmonic alone, ten decibels above all the rest.
      { ...swell, waveform: waveforms.sine as (k: number) => number, attackSeconds: 0.1 },
    ]);
    const { notes } = listenToTake(samples, RATE);
    expect(notes.map(({ pitchMidi }) => Math.round(pitchMidi ?? 0))).toEqual([73]);
  });

  it("is not the note where the first two sound, though little else does", () => {
    // dB of harmonics 1 to 7 against the third, as in some recorded reeds around middle C [X: Fourier transform of a
    // sampled harmonica of a free SoundFont].
    const levels = [-10, -13, 0, -43, -28, -35, -36];
    const waveform = (k: number) => (k <= levels.length ? 10 ** ((levels[k - 1] as number) / 20) : 0);
    const tones = line([60, 64, 62, 60, 67], 0.25).map((tone) => ({ ...tone, waveform }));
    const { notes } = listenToTake(take(RATE, 2.3, tones), RATE);
    expect(notes.map(({ pitchMidi }) => Math.round(pitchMidi ?? 0))).toEqual([60, 64, 62, 60, 67]);
  });

  it("is a note of its own where the others have stopped", () => {
    const { notes } = listenToTake(take(RATE, 2, line([73, 85, 73, 92], 0.25)), RATE);
    expect(notes.map(({ pitchMidi }) => Math.round(pitchMidi ?? 0))).toEqual([73, 85, 73, 92]);
  });
});
