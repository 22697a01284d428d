import { expect, test } from "vitest";
import { byName, isRecordingName } from "../../../core/listen/recording-names.ts";

test("recordings are told from what else lies in a folder", () => {
  const files = [
    "Anna.WAV",
    "year 1/take.m4a",
    "take.flac",
    "._Anna.WAV",
    ".wav",
    "notes.txt",
    "wav",
    "take.wav.bak",
  ];
  expect(files.filter(isRecordingName)).toEqual(["Anna.WAV", "year 1/take.m4a", "take.flac"]);
});

test("names are ordered as people count", () => {
  expect(["take 10", "Take 2", "take 1", "take 2"].sort(byName)).toEqual([
    "take 1",
    "Take 2",
    "take 2",
    "take 10",
  ]);
});
