import { expect, test } from "vitest";
import { gatherChosen, gatherDropped } from "../../../renderer/practice/gather-recordings.ts";

const fileAt = (path: string): File => {
  const file = new File(["x"], path.split("/").at(-1) ?? "");
  Object.defineProperty(file, "webkitRelativePath", { value: path });
  return file;
};
const names = (recordings: readonly { readonly name: string }[]) => recordings.map(({ name }) => name);

test("of a folder what is called like a recording is taken, in order of names, and the rest is named", () => {
  const paths = [
    "class/take 10.wav",
    "class/take 2.wav",
    "class/b/take 1.m4a",
    "class/list.txt",
    "class/.DS_Store",
  ];
  const { recordings, leftAlone, folder } = gatherChosen(paths.map(fileAt), true);
  expect(names(recordings)).toEqual(["b/take 1.m4a", "take 2.wav", "take 10.wav"]);
  expect(leftAlone).toEqual(["list.txt"]);
  expect(folder).toBe(true);
});

test("files that were chosen one by one are all taken, whatever they are called", () => {
  const { recordings, leftAlone, folder } = gatherChosen([fileAt("x/words.txt"), fileAt("x/a.wav")], false);
  expect(names(recordings)).toEqual(["a.wav", "words.txt"]);
  expect([leftAlone, folder]).toEqual([[], false]);
});

/** What a browser hands over of a dropped folder: entries, a hundred at most at a time. */
function entryOf(path: string, inside: readonly string[] | null): FileSystemEntry {
  const portions =
    inside === null ? [] : [inside.slice(0, 100), inside.slice(100)].filter((some) => some.length > 0);
  const entry = {
    isFile: inside === null,
    isDirectory: inside !== null,
    fullPath: `/${path}`,
    file: (give: (file: File) => void) => give(fileAt(path)),
    createReader: () => ({
      readEntries: (give: (entries: FileSystemEntry[]) => void) =>
        give((portions.shift() ?? []).map((name) => entryOf(`${path}/${name}`, null))),
    }),
  };
  return entry as unknown as FileSystemEntry;
}

const dropped = (entries: readonly FileSystemEntry[]) => {
  const items = entries.map((entry) => ({
    kind: "file",
    webkitGetAsEntry: () => entry,
    getAsFile: () => fileAt(entry.fullPath.slice(1)),
  }));
  return gatherDropped({ items } as unknown as DataTransfer);
};

test("a dropped folder is read to its end, however much is in it", async () => {
  const inside = Array.from({ length: 150 }, (_, i) => `take ${150 - i}.wav`);
  const { recordings, folder } = await dropped([entryOf("class", [...inside, "list.txt"])]);
  expect(recordings).toHaveLength(150);
  expect(names(recordings).slice(0, 3)).toEqual(["take 1.wav", "take 2.wav", "take 3.wav"]);
  expect(folder).toBe(true);
});

test("of two dropped folders each keeps its name; files beside them are taken too", async () => {
  const { recordings } = await dropped([
    entryOf("monday", ["take.wav"]),
    entryOf("friday", ["take.wav"]),
    entryOf("words.txt", null),
  ]);
  expect(names(recordings)).toEqual(["friday/take.wav", "monday/take.wav", "words.txt"]);
});

test("an empty folder is a folder with nothing in it", async () => {
  expect(await dropped([entryOf("class", [])])).toEqual({ recordings: [], leftAlone: [], folder: true });
});
