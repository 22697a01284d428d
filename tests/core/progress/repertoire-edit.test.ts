import { expect, test } from "vitest";
import {
  addSet,
  addTune,
  changeSet,
  changeTune,
  moveSet,
  moveTune,
  orderSet,
  removeSet,
  removeTune,
} from "../../../core/progress/repertoire/repertoire-edit.ts";
import type { SetList, SetTune } from "../../../core/progress/repertoire/repertoire-set-list.ts";

const tune = (id: string): SetTune => ({ id, tuneId: id, title: id, times: 3 });
const empty: SetList = { id: "1", name: "Autumn dance", sets: [] };
const two = ["a", "b"].reduce(
  (list, id) => addTune(list, "first", tune(id)),
  addSet(addSet(empty, "first", "Jigs"), "second", "Reels"),
);
const inSets = (list: SetList) => list.sets.map(({ tunes }) => tunes.map(({ id }) => id).join(" "));

test("a tune moves within its set, over the edge into the next one, and stays at the edge of the list", () => {
  expect(inSets(two)).toEqual(["a b", ""]);
  const down = moveTune(two, "a", 1);
  expect(inSets(down)).toEqual(["b a", ""]);
  const over = moveTune(down, "a", 1);
  expect(inSets(over)).toEqual(["b", "a"]);
  expect(inSets(moveTune(over, "a", 1))).toEqual(["b", "a"]);
  expect(inSets(moveTune(over, "a", -1))).toEqual(["b a", ""]);
  expect(inSets(moveTune(two, "a", -1))).toEqual(["a b", ""]);
});

test("a set moves up and down and stays at the edge", () => {
  expect(moveSet(two, "first", 1).sets.map(({ name }) => name)).toEqual(["Reels", "Jigs"]);
  expect(moveSet(two, "first", -1)).toEqual(two);
});

test("what is changed of a tune or a set is changed there alone, and a choice can be taken back", () => {
  const changed = changeTune(two, "b", { times: 2, bpm: 110 });
  expect(changed.sets[0]?.tunes[1]).toEqual({ ...tune("b"), times: 2, bpm: 110 });
  expect(changed.sets[0]?.tunes[0]).toEqual(tune("a"));
  expect(changeTune(changed, "b", { bpm: undefined }).sets[0]?.tunes[1]).toEqual({ ...tune("b"), times: 2 });
  expect(changeSet(two, "second", { pauseSeconds: 4 }).sets.map(({ pauseSeconds }) => pauseSeconds)).toEqual([
    0, 4,
  ]);
});

test("tunes and sets can be taken out", () => {
  expect(inSets(removeTune(two, "a"))).toEqual(["b", ""]);
  expect(removeSet(two, "first").sets.map(({ name }) => name)).toEqual(["Reels"]);
});

test("an order suggested for a set is taken over as a whole", () => {
  const ordered = orderSet(two, "first", [
    { place: 1, harp: null },
    { place: 0, harp: null },
  ]);
  expect(inSets(ordered)).toEqual(["b a", ""]);
});
