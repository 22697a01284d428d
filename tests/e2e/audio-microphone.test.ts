import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { targetMidi } from "../../core/exercise/exercise.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import { simulateTake } from "../../core/simulate/simulated-take.ts";
import { bpm } from "../../core/units.ts";
import { exerciseOf } from "../support/drills.ts";
import { forComparing, laterBy } from "./audio-lag.ts";
import { type AudioRoom, buildAudioRoom, medianOf, peakOf, runCardAt, samplesOf } from "./audio-room.ts";
import { chromiumPath, whyNoBrowser } from "./browser.ts";

let room: AudioRoom;
beforeAll(async () => {
  if (chromiumPath !== null) room = await buildAudioRoom();
});
afterEach(async () => room?.closePage());
afterAll(async () => room?.close());

/** 15 notes in 3.2 s after 1.6 s of quiet, without a mistake. */
const exercise = exerciseOf({ tempo: { bpm: bpm(150), noteValue: "1/4" }, notesPerBeat: 2 });
/** The fake device's own rate. */
const DEVICE_HZ = 44_100;
const played = simulateTake(exercise, { seed: 7, plants: [], sampleRateHz: DEVICE_HZ });
const playedSeconds = played.samples.length / DEVICE_HZ;

/** Opens the microphone in the page and records for some time. */
async function record(page: Page, seconds: number) {
  const result = await page.evaluate(async (seconds) => {
    const { audioRoom: room } = globalThis;
    const opened = await room.openMicrophone();
    if (opened.kind === "problem") throw new Error(opened.problem.words);
    const { session } = opened;
    const readings: { atSeconds: number; pitchMidi: number | null; levelDbfs: number; silent: boolean }[] =
      [];
    session.onReading((reading) => readings.push(reading));
    await session.startTake();
    await room.wait(seconds);
    const take = await session.stopTake();
    session.close();
    const { sampleRateHz, deviceName, refused } = session;
    return { ...take, samples: room.toBase64(take.samples), readings, sampleRateHz, deviceName, refused };
  }, seconds);
  return { ...result, samples: samplesOf(result.samples) };
}

/** Around an onset: the end of the note before it and its own beginning. */
const BEFORE_SECONDS = 0.06;
const AFTER_SECONDS = 0.08;
/** On a busy machine several of the device's buffers may go missing or come in at once. */
const REACH_SECONDS = 0.08;
const BUFFER_SECONDS = 0.01;

/** How far the notes of a take lie from what was played: cents, and seconds from where the take's own samples have them. */
function errorsOf(samples: Float32Array, rate: number) {
  const { notes } = listenToTake(samples, rate);
  const onFile = listenToTake(played.samples, DEVICE_HZ).notes;
  expect(onFile).toHaveLength(exercise.notes.length);
  const [take, file] = [forComparing(samples, rate), forComparing(played.samples, DEVICE_HZ)];
  const started = medianOf(
    onFile.slice(0, 5).flatMap(({ onSeconds }, place) => {
      const note = notes[place];
      return note === undefined ? [] : [note.onSeconds - onSeconds];
    }),
  );
  const found = onFile.flatMap(({ onSeconds: on }, place) => {
    const stretch = { from: on - BEFORE_SECONDS, to: on + AFTER_SECONDS };
    const later = laterBy(take, file, stretch, started, REACH_SECONDS);
    if (later === null) return []; // torn by a slip of the fake device
    const note = notes.find(({ onSeconds }) => Math.abs(onSeconds - on - later) < BEFORE_SECONDS);
    const expected = exercise.notes[place];
    if (note?.pitchMidi == null || expected === undefined) throw new Error(`note ${place} was not read`);
    const cents = 100 * (note.pitchMidi - targetMidi(exercise, expected));
    return [{ later, cents, seconds: note.onSeconds - on - later }];
  });
  return { found, slips: found.slice(1).map(({ later }, place) => later - (found[place]?.later ?? later)) };
}

describe.skipIf(chromiumPath === null)(`the microphone in a real browser${whyNoBrowser}`, () => {
  test.each([44_100, 48_000, 96_000])(
    "every note played into it is recorded in tune and in time, sound card at %d Hz",
    async (rate) => {
      const { page, complaints } = await room.open({
        wavPath: await room.keepWav("played.wav", played.samples, DEVICE_HZ),
      });
      await runCardAt(page, rate);
      const take = await record(page, playedSeconds + 0.5);
      expect(take.sampleRateHz).toBe(rate);
      // [calc] the file's peak, but for what resampling adds or takes: within half a dB.
      const gainDb = 20 * Math.log10(peakOf(take.samples) / peakOf(played.samples));
      expect(Math.abs(gainDb)).toBeLessThan(0.5);
      expect(take.lostSamples).toBe(0);
      expect(take.samples.length / rate).toBeGreaterThan(playedSeconds);
      const { found, slips } = errorsOf(take.samples, rate);
      expect(found.length).toBeGreaterThan(exercise.notes.length / 2);
      // The device slips by whole buffers of 10 ms, and the step of comparing is 0.1 ms; else it would be our doing.
      for (const slip of slips)
        expect(Math.abs(slip - BUFFER_SECONDS * Math.round(slip / BUFFER_SECONDS))).toBeLessThan(0.0003);
      for (const { cents, seconds } of found) {
        expect(Math.abs(cents)).toBeLessThan(2); // 2 cents: below what an ear tells apart
        expect(Math.abs(seconds)).toBeLessThan(0.005); // 5 ms, as marks promise
      }
      expect(complaints).toEqual([]);
    },
  );

  test("a window that joins and parts sound nodes all the while puts no gap into the take", async () => {
    const { page, complaints } = await room.open({
      wavPath: await room.keepWav("played.wav", played.samples, DEVICE_HZ),
    });
    const take = await page.evaluate(async () => {
      const { audioRoom: room } = globalThis;
      const opened = await room.openMicrophone();
      if (opened.kind === "problem") throw new Error(opened.problem.words);
      const { context } = room.soundContext();
      await opened.session.startTake();
      // As the beat does, and far oftener: the worklet's clock then stands still for a block now and then.
      const busy = setInterval(() => {
        const nodes = Array.from({ length: 200 }, () => context.createGain());
        for (const node of nodes) node.connect(context.destination);
        for (const node of nodes) node.disconnect();
      }, 1);
      await room.wait(4);
      clearInterval(busy);
      const { lostSamples, samples } = await opened.session.stopTake();
      opened.session.close();
      return { lostSamples, seconds: samples.length / opened.session.sampleRateHz };
    });
    expect(take.seconds).toBeGreaterThan(3.5);
    expect(take.lostSamples).toBe(0);
    expect(complaints).toEqual([]);
  });

  test("what was heard while recording is what the finished take gives", async () => {
    const { page } = await room.open({
      wavPath: await room.keepWav("played.wav", played.samples, DEVICE_HZ),
    });
    const { recorded, again } = await page.evaluate(async (seconds) => {
      const { audioRoom: room } = globalThis;
      const opened = await room.openMicrophone();
      if (opened.kind === "problem") throw new Error(opened.problem.words);
      await opened.session.startTake();
      await room.wait(seconds);
      const take = await opened.session.stopTake();
      opened.session.close();
      return { recorded: take.listening, again: await room.listenInWorker(take.samples, take.sampleRateHz) };
    }, playedSeconds);
    expect(recorded.notes.length).toBeGreaterThan(10);
    expect(recorded).toEqual(again); // to the last digit: the same code on the same samples
  });

  test("live readings follow the notes on the take's clock, at most 30 a second", async () => {
    const { page } = await room.open({
      wavPath: await room.keepWav("played.wav", played.samples, DEVICE_HZ),
    });
    const take = await record(page, playedSeconds + 0.3);
    const { readings } = take;
    const span = (readings.at(-1)?.atSeconds ?? 0) - (readings[0]?.atSeconds ?? 0);
    // n readings lie n - 1 waits apart.
    const aSecond = (readings.length - 1) / span;
    expect(aSecond).toBeLessThanOrEqual(30);
    expect(aSecond).toBeGreaterThan(15);
    // In the middle third of each note the reading on the screen is that note's: 25 cents is half a tuner's step.
    let inside = 0;
    for (const { onSeconds, offSeconds, pitchMidi } of take.listening.notes) {
      const third = (offSeconds - onSeconds) / 3;
      for (const reading of readings) {
        const at = reading.atSeconds - take.firstSampleSeconds;
        if (at < onSeconds + third || at > offSeconds - third) continue;
        inside++;
        expect(100 * Math.abs((reading.pitchMidi ?? 0) - (pitchMidi ?? Number.NaN))).toBeLessThan(25);
        expect(reading.levelDbfs).toBeGreaterThan(-30); // played at -20 dBFS
      }
    }
    expect(inside).toBeGreaterThan(exercise.notes.length);
    expect(readings.some((reading) => reading.pitchMidi === null)).toBe(true); // the count-in is quiet
  });

  test("a microphone the system keeps shut is recognised by its exact zeros after a second", async () => {
    const zeros = new Float32Array(4 * DEVICE_HZ);
    const { page } = await room.open({ wavPath: await room.keepWav("zeros.wav", zeros, DEVICE_HZ) });
    const { readings } = await record(page, 2.5);
    const first = readings.findIndex((reading) => reading.silent);
    expect(first).toBeGreaterThan(0);
    expect(readings.slice(first).every((reading) => reading.silent)).toBe(true);
  });

  test("processing is asked to be off, is off here, and named where a system will not turn it off", async () => {
    const { page } = await room.open();
    const { asked, refused } = await page.evaluate(async () => {
      const { mediaDevices } = navigator;
      const open = mediaDevices.getUserMedia.bind(mediaDevices);
      let asked: unknown = null;
      mediaDevices.getUserMedia = (wanted) => {
        asked = wanted?.audio;
        return open(wanted);
      };
      const refusedNow = async () => {
        const opened = await globalThis.audioRoom.openMicrophone();
        if (opened.kind === "problem") return opened.problem.words;
        opened.session.close();
        return opened.session.refused;
      };
      const honest = await refusedNow();
      MediaStreamTrack.prototype.getSettings = () => ({
        echoCancellation: true,
        noiseSuppression: false,
        autoGainControl: true,
      });
      return { asked, refused: [honest, await refusedNow()] };
    });
    expect(asked).toMatchObject({ echoCancellation: false, noiseSuppression: false, autoGainControl: false });
    expect(refused).toEqual([[], ["echo cancellation", "automatic gain"]]);
  });

  test("a microphone that is not allowed is a problem with words that say what to do", async () => {
    const { page } = await room.open({ allowMicrophone: false });
    const opened = await page.evaluate(() => globalThis.audioRoom.openMicrophone());
    expect(opened).toMatchObject({ kind: "problem", problem: { cause: "denied" } });
    expect(opened.kind === "problem" ? opened.problem.words : "").toMatch(
      /not allowed\. Allow it .* start again\.$/,
    );
  });

  test.each([
    ["NotFoundError", "none", /^No microphone was found\. Plug one in/],
    ["NotReadableError", "busy", /held by another program/],
    ["TypeError", "failed", /could not be opened/],
  ])("the browser's %s is a problem of its own kind", async (name, cause, words) => {
    const { page } = await room.open();
    const opened = await page.evaluate((name) => {
      navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException("no", name));
      return globalThis.audioRoom.openMicrophone();
    }, name);
    if (opened.kind === "open") throw new Error("it opened");
    expect(opened.problem.cause).toBe(cause);
    expect(opened.problem.words).toMatch(words);
  });

  test("it can be opened again after closing, and a take that was cancelled is not in the next one", async () => {
    const { page, complaints } = await room.open({
      wavPath: await room.keepWav("played.wav", played.samples, DEVICE_HZ),
    });
    const seen = await page.evaluate(async () => {
      const { audioRoom: room } = globalThis;
      const first = await room.openMicrophone();
      if (first.kind === "problem") throw new Error(first.problem.words);
      let afterClosing = 0;
      await first.session.startTake();
      first.session.close();
      first.session.close();
      first.session.onReading(() => afterClosing++);
      const stopped = await first.session.stopTake().then(
        () => "a take",
        (error: Error) => error.message,
      );
      const second = await room.openMicrophone();
      if (second.kind === "problem") throw new Error(second.problem.words);
      await second.session.startTake();
      await room.wait(1);
      second.session.cancelTake();
      await second.session.startTake();
      const restartedAt = room.soundContext().context.currentTime;
      await room.wait(0.5);
      const take = await second.session.stopTake();
      second.session.close();
      const seconds = take.samples.length / take.sampleRateHz;
      return { afterClosing, stopped, seconds, startOff: take.firstSampleSeconds - restartedAt };
    });
    expect(seen.afterClosing).toBe(0);
    expect(seen.stopped).toBe("the microphone is closed");
    expect(seen.seconds).toBeGreaterThan(0.3);
    expect(seen.seconds).toBeLessThan(1);
    // Half a second was recorded, not one and a half; its first sample is near the moment of starting.
    expect(Math.abs(seen.startOff)).toBeLessThan(0.3);
    expect(complaints).toEqual([]);
  });

  test.each([
    ["runs", false],
    ["is being ended", true],
  ])("a microphone that is unplugged says so once, and a take that %s is saved", async (_, isStopping) => {
    const { page, complaints } = await room.open();
    const seen = await page.evaluate(async (isStopping) => {
      const { audioRoom: room } = globalThis;
      const { mediaDevices } = navigator;
      const open = mediaDevices.getUserMedia.bind(mediaDevices);
      let track: MediaStreamTrack | undefined;
      mediaDevices.getUserMedia = async (wanted) => {
        const stream = await open(wanted);
        track = stream.getAudioTracks()[0];
        return stream;
      };
      const opened = await room.openMicrophone();
      if (opened.kind === "problem") throw new Error(opened.problem.words);
      const told: { trouble: string; rescued: Promise<number | null> }[] = [];
      opened.session.onEnded(({ trouble, rescued }) =>
        told.push({ trouble: trouble.kind, rescued: rescued.then((take) => take?.samples.length ?? null) }),
      );
      await opened.session.startTake();
      await room.wait(0.4);
      const stopping = isStopping
        ? opened.session.stopTake().then((take) => take.samples.length > 0)
        : Promise.resolve(false);
      track?.dispatchEvent(new Event("ended"));
      track?.dispatchEvent(new Event("ended"));
      const rescued = await Promise.all(told.map((one) => one.rescued));
      return {
        troubles: told.map(({ trouble }) => trouble),
        rescued: rescued.map((samples) => samples !== null && samples > 0),
        stopping: await stopping,
        state: track?.readyState,
      };
    }, isStopping);
    // A take that is being ended is given to whoever ended it, one that runs to whoever is told of the end.
    expect(seen).toEqual({
      troubles: ["unplugged"],
      rescued: [!isStopping],
      stopping: isStopping,
      state: "ended",
    });
    expect(complaints).toEqual([]);
  });
});
