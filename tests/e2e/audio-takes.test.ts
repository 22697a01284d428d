import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import type { Exercise } from "../../core/exercise/exercise.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { writeWav } from "../../core/listen/wav.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import { bpm } from "../../core/units.ts";
import { exerciseOf } from "../support/drills.ts";
import { type AudioRoom, buildAudioRoom, peakOf, samplesOf } from "./audio-room.ts";
import { chromiumPath, whyNoBrowser } from "./browser.ts";

let room: AudioRoom;
beforeAll(async () => {
  if (chromiumPath !== null) room = await buildAudioRoom();
});
afterEach(async () => room?.closePage());
afterAll(async () => room?.close());

const exercise = exerciseOf({ tempo: { bpm: bpm(200), noteValue: "1/4" }, notesPerBeat: 2 });
const exerciseJson = JSON.stringify(exercise);
const settings = { seed: 3, plants: [], sampleRateHz: 48_000 };

describe.skipIf(chromiumPath === null)(`takes in a real browser${whyNoBrowser}`, () => {
  test("a take is heard again sample by sample, from the place asked for, at the loudness set", async () => {
    const { page, complaints } = await room.open();
    const heard = await page.evaluate(async () => {
      const { audioRoom: room } = globalThis;
      room.setLoudness(-6);
      const { context } = room.soundContext();
      const rate = context.sampleRate;
      // A ramp: the value says the place, from -0.5 at 0 s to 0.5 at 2 s.
      const samples = Float32Array.from({ length: 2 * rate }, (_, i) => i / (2 * rate) - 0.5);
      const tap = await room.tapOutput();
      const positions: number[] = [];
      await new Promise<void>((onEnd) =>
        room.createPlayback().play(samples, rate, 1.25, { onPosition: (at) => positions.push(at), onEnd }),
      );
      return { ...(await tap.end()), positions };
    });
    const sounded = samplesOf(heard.samples).filter((sample) => sample !== 0);
    // [calc] 0.75 s are left after 1.25 of 2 s; the ramp stands at 1.25 / 2 - 0.5 = 0.125; -6 dB is a factor of 0.501.
    expect(sounded.length / heard.sampleRateHz).toBeCloseTo(0.75, 3);
    // [calc] 10 ms on, past the fade that keeps a cut from cracking, 0.005 higher, and as much lower before the end.
    const inside = Math.round(0.01 * heard.sampleRateHz);
    expect((sounded[inside] ?? 0) / 10 ** (-6 / 20)).toBeCloseTo(0.13, 3);
    expect((sounded.at(-inside) ?? 0) / 10 ** (-6 / 20)).toBeCloseTo(0.495, 3);
    expect(Math.abs(sounded[0] ?? 1)).toBeLessThan(0.01);
    expect(Math.abs(sounded.at(-1) ?? 1)).toBeLessThan(0.01);
    expect(heard.positions.length).toBeGreaterThan(2);
    for (const at of heard.positions) expect(at).toBeGreaterThanOrEqual(1.25);
    expect(Math.max(...heard.positions)).toBeLessThan(2.1);
    expect([...heard.positions].sort((a, b) => a - b)).toEqual(heard.positions);
    expect(complaints).toEqual([]);
  });

  test("a take being heard stops within 50 ms, tells no end, and a second take replaces the first", async () => {
    const { page, complaints } = await room.open();
    const heard = await page.evaluate(async () => {
      const { audioRoom: room } = globalThis;
      room.setLoudness(0);
      const { context } = room.soundContext();
      const rate = context.sampleRate;
      const steady = (value: number) => new Float32Array(5 * rate).fill(value);
      const tap = await room.tapOutput();
      const playback = room.createPlayback();
      const ends: string[] = [];
      playback.play(steady(0.25), rate, -1, { onEnd: () => ends.push("first") });
      await room.wait(0.4);
      playback.play(steady(0.5), rate, 0, { onEnd: () => ends.push("second") });
      await room.wait(0.4);
      const stoppedAt = context.currentTime;
      playback.stop();
      playback.stop();
      await room.wait(0.5);
      // Beyond its end nothing is left to hear.
      await new Promise<void>((onEnd) => playback.play(steady(0.1), rate, 99, { onEnd }));
      return { ...(await tap.end()), stoppedAt, ends };
    });
    const samples = samplesOf(heard.samples);
    // One after the other, never together; each rises to its height within its first 5 ms.
    const held = samples.filter((value, i) => value === samples[i + 1]);
    expect([...new Set(held)].sort()).toEqual([0, 0.25, 0.5]);
    expect(peakOf(samples)).toBe(0.5);
    const stop = (heard.stoppedAt - heard.firstSampleSeconds) * heard.sampleRateHz;
    expect(samples[Math.floor(stop) - 10]).toBe(0.5);
    expect(peakOf(samples.subarray(stop + 0.05 * heard.sampleRateHz))).toBe(0);
    expect(heard.ends).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("a WAV is read as it is, and what only the browser can decode keeps its pitch", async () => {
    const take = simulateTake(exercise, settings);
    const wav = [...writeWav(take.samples, 48_000, "float32")];
    const { page, complaints } = await room.open();
    const read = await page.evaluate(
      async ({ wav }) => {
        const { audioRoom: room } = globalThis;
        const decoded = await room.decodeRecording("evening.wav", new Uint8Array(wav).buffer);
        if (decoded.kind === "unreadable") throw new Error(decoded.reason);
        // Has the browser make a compressed file of the same take.
        const { context } = room.soundContext();
        await room.wakeSound();
        const buffer = context.createBuffer(1, decoded.samples.length, decoded.sampleRateHz);
        buffer.getChannelData(0).set(decoded.samples);
        const source = new AudioBufferSourceNode(context, { buffer });
        const sink = context.createMediaStreamDestination();
        source.connect(sink);
        const recorder = new MediaRecorder(sink.stream, { audioBitsPerSecond: 128_000 });
        const parts: Blob[] = [];
        recorder.ondataavailable = ({ data }) => parts.push(data);
        const stopped = new Promise((resolve) => {
          recorder.onstop = resolve;
        });
        recorder.start();
        source.start();
        await new Promise((resolve) => {
          source.onended = resolve;
        });
        recorder.stop();
        await stopped;
        const packed = await new Blob(parts).arrayBuffer();
        const unpacked = await room.decodeRecording("evening.webm", packed);
        if (unpacked.kind === "unreadable") throw new Error(unpacked.reason);
        return {
          wavSamples: room.toBase64(decoded.samples),
          wavRate: decoded.sampleRateHz,
          type: recorder.mimeType,
          samples: room.toBase64(unpacked.samples),
          rate: unpacked.sampleRateHz,
        };
      },
      { wav },
    );
    expect(read.wavRate).toBe(48_000);
    expect(samplesOf(read.wavSamples)).toEqual(take.samples);
    expect(read.type).toContain("opus");
    const pitches = (samples: Float32Array, rate: number) =>
      listenToTake(samples, rate).notes.map((note) => note.pitchMidi ?? Number.NaN);
    const before = pitches(take.samples, 48_000);
    const after = pitches(samplesOf(read.samples), read.rate);
    expect(before).toHaveLength(exercise.notes.length);
    expect(after).toHaveLength(before.length);
    // 3 cents: the codec may blur a short note, but not so that one hears it.
    after.forEach((pitch, place) => {
      expect(100 * Math.abs(pitch - (before[place] ?? Number.NaN))).toBeLessThan(3);
    });
    expect(complaints).toEqual([]);
  });

  test("what cannot be decoded or is too large is refused in one sentence", async () => {
    const { page, complaints } = await room.open();
    const reasons = await page.evaluate(async () => {
      const { decodeRecording } = globalThis.audioRoom;
      const text = () => new TextEncoder().encode("not a sound").buffer as ArrayBuffer;
      const files: [string, ArrayBuffer][] = [
        ["notes.mp3", text()],
        ["notes.wav", text()],
        ["empty.ogg", new ArrayBuffer(0)],
        ["huge.ogg", new ArrayBuffer(200_000_001)],
      ];
      const reasons: string[] = [];
      for (const [name, bytes] of files) {
        const read = await decodeRecording(name, bytes);
        reasons.push(read.kind === "unreadable" ? read.reason : "a take");
      }
      return reasons;
    });
    expect(reasons).toEqual([
      "it is not sound this window can decode",
      expect.stringMatching(/^not a WAV file/),
      "it is not sound this window can decode",
      "it has 200 MB; at most 200 MB can be opened",
    ]);
    expect(complaints).toEqual([]);
  });

  test("listening in the worker gives the core's answer, tells how far it is, and leaves the window free", async () => {
    const take = simulateTake(exercise, settings);
    const { page, complaints } = await room.open();
    const result = await page.evaluate(async (exerciseJson) => {
      const { audioRoom: room } = globalThis;
      const exercise = JSON.parse(exerciseJson) as Exercise;
      const shares: number[] = [];
      const simulated = await room.simulateInWorker(exercise, { seed: 3, plants: [], sampleRateHz: 48_000 });
      const { samples } = simulated.take;
      const listening = await room.listenInWorker(samples, 48_000, {
        onProgress: (share) => shares.push(share),
      });
      return {
        samples: room.toBase64(samples),
        shares,
        heard: listening.notes.map((note) => note.pitchMidi),
        heardAtOnce: simulated.listening.notes.map((note) => note.pitchMidi),
        stillThere: samples.length,
      };
    }, exerciseJson);
    const fromPage = samplesOf(result.samples);
    expect(fromPage.length).toBe(take.samples.length);
    // Two engines' sines differ in the last digits: 120 dB below full scale nobody hears.
    fromPage.forEach((sample, i) => {
      if (Math.abs(sample - (take.samples[i] ?? 0)) > 1e-6) throw new Error(`sample ${i} differs`);
    });
    const core = listenToTake(take.samples, 48_000).notes.map((note) => note.pitchMidi);
    expect(core).toHaveLength(exercise.notes.length);
    for (const heard of [result.heard, result.heardAtOnce]) {
      expect(heard).toHaveLength(core.length);
      heard.forEach((pitch, i) => {
        expect(pitch).toBeCloseTo(core[i] ?? Number.NaN, 4); // a hundredth of a cent
      });
    }
    expect(result.stillThere).toBe(take.samples.length); // the caller keeps its samples
    expect(result.shares.length).toBeGreaterThan(2);
    expect([...result.shares].sort((a, b) => a - b)).toEqual(result.shares);
    expect(result.shares.at(-1)).toBeGreaterThan(0.9);
    expect(Math.max(...result.shares)).toBeLessThanOrEqual(1);
    expect(complaints).toEqual([]);
  });

  test("listening can be given up before and during the work, and what cannot be listened to is said", async () => {
    const { page, complaints } = await room.open();
    const outcomes = await page.evaluate(async () => {
      const { listenInWorker } = globalThis.audioRoom;
      const minutes = Float32Array.from({ length: 300 * 48_000 }, (_, i) => Math.sin(i / 20) / 4);
      const outcome = (work: Promise<unknown>) =>
        work.then(
          () => "finished",
          (error: Error) => error.name + (error.name === "AbortError" ? "" : `: ${error.message}`),
        );
      const before = await outcome(listenInWorker(minutes, 48_000, { signal: AbortSignal.abort() }));
      const abort = new AbortController();
      let later = 0;
      const during = await outcome(
        listenInWorker(minutes, 48_000, {
          signal: abort.signal,
          onProgress: () => {
            if (abort.signal.aborted) later++;
            abort.abort();
          },
        }),
      );
      return { before, during, later, wrong: await outcome(listenInWorker(minutes.slice(0, 100), 50)) };
    });
    expect(outcomes.before).toBe("AbortError");
    expect(outcomes.during).toBe("AbortError");
    expect(outcomes.later).toBe(0);
    expect(outcomes.wrong).toMatch(/^Error: .*50 Hz/);
    expect(complaints).toEqual([]);
  });
});
