import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Exercise, lengthOf, onsetOf, targetMidi } from "../../core/exercise/exercise.ts";
import { listenToTake } from "../../core/listen/listen-to-take.ts";
import type { Listening } from "../../core/listen/listening.ts";
import { readWav } from "../../core/listen/wav.ts";
import type { Attempt } from "../../core/score/attempt.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { bpm } from "../../core/units.ts";
import { exerciseOf } from "../support/drills.ts";
import { harp } from "../support/harps.ts";
import { missingForFluidsynth, playRecordedHarmonica } from "./fluidsynth.ts";
import { medianHz, praatPitch } from "./praat.ts";
import { hasTool } from "./tools.ts";

const missing = [...missingForFluidsynth, ...(hasTool("praat") ? [] : ["praat"])];
const because = missing.length === 0 ? "" : ` (skipped, not installed: ${missing.join(", ")})`;

/** The recording begins with this much silence, which is not the count-in: its start has to be found. */
const LEAD_SECONDS = 1;

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "reedpath-score-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The exercise played by a recorded harmonica, each note released 5 ms before the next. */
function play(exercise: Exercise, name: string): string {
  const notes = exercise.notes.map((note) => {
    const onSeconds = LEAD_SECONDS + onsetOf(exercise, note);
    return { key: note.midi, onSeconds, offSeconds: onSeconds + lengthOf(exercise, note) - 0.005 };
  });
  return playRecordedHarmonica(folder, name, notes);
}

function markFile(exercise: Exercise, file: string): { attempt: Attempt; listening: Listening } {
  const wav = readWav(readFileSync(file));
  if (wav.kind === "unreadable") throw new Error(wav.reason);
  const listening = listenToTake(wav.samples, wav.sampleRateHz);
  return { attempt: scoreTake(exercise, listening), listening };
}

const median = (values: readonly number[]) => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;

describe.skipIf(missing.length > 0)(`a scale on a recorded harmonica, marked${because}`, () => {
  const cases = [90, 180].flatMap((tempo) => [
    {
      tempo,
      words: "second position, one octave",
      exercise: exerciseOf({ tempo: { bpm: bpm(tempo), noteValue: "1/4" } }),
    },
    {
      tempo,
      words: "first position, two octaves on a C harp",
      exercise: exerciseOf({
        harp: harp("C"),
        position: 1,
        mode: "major",
        octaves: 2,
        tempo: { bpm: bpm(tempo), noteValue: "1/4" },
      }),
    },
    {
      tempo,
      words: "third position in quavers on a low harp",
      exercise: exerciseOf({
        position: 3,
        mode: "dorian",
        start: "lowest",
        notesPerBeat: 2,
        tempo: { bpm: bpm(tempo), noteValue: "1/4" },
      }),
    },
  ]);
  test.each(cases)(
    "at $tempo crotchets, $words: every note hit, onsets within 25 ms, cents as Praat measures them",
    ({ tempo, exercise, words }) => {
      const file = play(exercise, `${tempo}-${words.replace(/\W+/g, "-")}`);
      const { attempt, listening } = markFile(exercise, file);
      expect(attempt.marks.map((mark) => mark.verdict)).toEqual(exercise.notes.map(() => "hit"));
      expect(attempt.extras).toEqual([]);

      // After the constant offset of the attack and the unknown start: half of mir_eval's 50 ms window [F 50].
      const usual = median(attempt.marks.map((mark) => Number(mark.ms)));
      for (const mark of attempt.marks) expect(Math.abs(Number(mark.ms) - usual)).toBeLessThanOrEqual(25);

      // [X] Praat 6.3.07, autocorrelation: median over the same settled part, clear of the next note by half a window.
      // A low recorded reed wavers by a few cents within a note, so another part would be another pitch.
      const praat = praatPitch(file);
      for (const mark of attempt.marks) {
        const note = exercise.notes[mark.index];
        if (note === undefined || mark.onSeconds === null || mark.offSeconds === null)
          throw new Error("every note was heard");
        const settled = listening.notes.find((one) => one.onSeconds === mark.onSeconds)?.settledSeconds ?? 0;
        expect(settled).toBeGreaterThan(0);
        const hz = medianHz(praat, mark.offSeconds - settled, mark.offSeconds - 0.014);
        const heard = 69 + 12 * Math.log2(hz / 440);
        const theirs = 100 * (heard - targetMidi(exercise, note));
        expect(Math.abs(Number(mark.cents) - theirs), `note ${mark.index}`).toBeLessThanOrEqual(2);
      }
    },
  );
});
