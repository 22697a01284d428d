import { expect, test } from "vitest";
import { gaussian, seededRandom } from "../../../core/exercise/seeded-random.ts";
import { factOf } from "../../../core/progress/counts/session-fact.ts";
import { scoreTake } from "../../../core/score/score-take.ts";
import { exercises } from "./exercises.ts";
import { heard, keptRight, marked, play } from "./played.ts";
import { USUAL_FORM } from "./player.ts";

test("marks made without sound say the same as the real marking, in everything progress reads", () => {
  const random = seededRandom(3);
  const normal = gaussian(random);
  let notes = 0;
  for (let round = 0; round < 40; round++) {
    for (const exercise of exercises()) {
      const form = { ...USUAL_FORM, biasCents: 3 * normal(), biasMs: 8 * normal() };
      const played = keptRight(play(exercise, form, normal, random));
      const real = scoreTake(exercise, heard(exercise, played));
      const kept = { id: "one", atEpochMs: 0, zone: "UTC", exercise };
      const quick = { ...real, ...marked(exercise, played) };
      const [one, other] = [factOf({ ...kept, attempt: real }), factOf({ ...kept, attempt: quick })];
      expect(other).toEqual(one);
      notes += exercise.notes.length;
    }
  }
  expect(notes).toBeGreaterThan(2000);
});
