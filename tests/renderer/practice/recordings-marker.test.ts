import { describe, expect, test, vi } from "vitest";
import { dbfs } from "../../../core/units.ts";
import type { Gathered } from "../../../renderer/practice/gather-recordings.ts";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import { RecordingsMarker, RecordingsShelf } from "../../../renderer/practice/recordings-marker.ts";
import { exerciseOf } from "../../support/drills.ts";
import { PretendWorld } from "./doubles.ts";

const exercise = exerciseOf({ direction: "up" });
const OPTIONS = { latencyMs: 0, beatWhilePlaying: "heard" as const };

function gatheredOf(...names: readonly string[]): Gathered {
  const recordings = names.map((name) => ({ name, file: new File(["sound"], name) }));
  return { recordings, leftAlone: [], folder: true };
}

function setUp(changes: Parameters<PretendWorld["services"]>[0] = {}) {
  const world = new PretendWorld(exercise);
  const services = world.services({
    ...changes,
    decodeRecording: async (name, bytes, options) => {
      if (name.startsWith("words")) return { kind: "unreadable", reason: "not a WAV file" };
      return changes.decodeRecording?.(name, bytes, options) ?? { kind: "take", ...world.take() };
    },
  });
  const session = new PracticeSession(exercise, services, OPTIONS);
  return {
    world,
    services,
    session,
    marker: new RecordingsMarker(exercise, session.markingSettings(), services),
  };
}

const kinds = (marker: RecordingsMarker) => marker.getState().rows.map(({ result }) => result?.kind ?? null);

describe("many recordings of one exercise", () => {
  test("are marked one after the other; a bad one says why and loses none of the others", async () => {
    const { world, marker } = setUp();
    const seen: string[] = [];
    marker.subscribe(() => {
      const { running, rows } = marker.getState();
      const name = running === null ? "nothing" : (rows[running.at]?.name ?? "");
      if (seen.at(-1) !== name) seen.push(name);
    });
    await marker.start(gatheredOf("anna.wav", "words.wav", "ben.wav"));
    expect(seen).toEqual(["nothing", "anna.wav", "words.wav", "ben.wav", "nothing"]);
    expect(kinds(marker)).toEqual(["marked", "not marked", "marked"]);
    expect(marker.results()[0]).toMatchObject({
      told: { summary: { notes: { hit: exercise.notes.length } } },
    });
    expect(marker.results()[1]).toEqual({ kind: "not marked", name: "words.wav", reason: "not a WAV file" });
    expect(await world.history.list()).toEqual([]); // nobody asked for it
  });

  test("stopped, what is marked stays, and it goes on where it was", async () => {
    let decoded = 0;
    const { marker, world } = setUp({
      decodeRecording: async () => {
        decoded++;
        if (decoded === 2) marker.stop();
        return { kind: "take", ...world.take() };
      },
    });
    await marker.start(gatheredOf("a.wav", "b.wav", "c.wav"));
    expect(kinds(marker)).toEqual(["marked", null, null]);
    expect(marker.getState().running).toBeNull();
    expect(marker.results().slice(1)).toEqual([
      { kind: "not marked", name: "b.wav", reason: "stopped before its turn" },
      { kind: "not marked", name: "c.wav", reason: "stopped before its turn" },
    ]);
    await marker.goOn();
    expect(kinds(marker)).toEqual(["marked", "marked", "marked"]);
    expect(decoded).toBe(4); // the first was not marked anew
  });

  test("silence, a file taken away and one beyond 200 MB are told apart, and the last is not even read", async () => {
    const { marker, services } = setUp();
    const listen = services.listenInWorker;
    vi.spyOn(services, "listenInWorker").mockImplementation(async (...args) => ({
      ...(await listen(...args)),
      peakDbfs: dbfs(-90),
    }));
    const gone = new File(["x"], "gone.wav");
    gone.arrayBuffer = () => Promise.reject(new Error("NotReadable"));
    const huge = new File(["x"], "huge.wav");
    Object.defineProperty(huge, "size", { value: 300_000_000 });
    huge.arrayBuffer = () => Promise.reject(new Error("read all the same"));
    const recordings = [new File(["x"], "silent.wav"), gone, huge].map((file) => ({ name: file.name, file }));
    await marker.start({ recordings, leftAlone: [], folder: false });
    expect(marker.results().map((one) => (one.kind === "not marked" ? one.reason : one.kind))).toEqual([
      "it holds only silence",
      "the file can no longer be read: it was moved, changed or taken away",
      "it has 300 MB; at most 200 MB can be opened",
    ]);
  });

  test("outlast the sheet they were marked on, each exercise and way with its own", async () => {
    const { services, session } = setUp();
    const shelf = new RecordingsShelf(services);
    const marker = shelf.of(exercise, session.markingSettings());
    await marker.start(gatheredOf("anna.wav"));
    const again = new PracticeSession({ ...exercise }, services, OPTIONS);
    expect(shelf.of(again.exercise, again.markingSettings())).toBe(marker);
    const other = new PracticeSession(exercise, services, { ...OPTIONS, way: "own pace" });
    expect(shelf.of(exercise, other.markingSettings())).not.toBe(marker);
  });
});

describe("one of many recordings opened on the sheet", () => {
  test("is kept in the history only when that is asked for, and then once", async () => {
    const { world, session } = setUp();
    await session.markRecording("anna.wav", new ArrayBuffer(8), "anybody's");
    expect(session.getState()).toMatchObject({ kind: "marked", keeping: { kind: "offered" } });
    expect(await world.history.list()).toEqual([]);
    await Promise.all([session.keep(), session.keep()]);
    expect(session.getState()).toMatchObject({ keeping: { kind: "kept" } });
    expect(await world.history.list()).toHaveLength(1);
  });

  test("whose file is gone by now is told in a sentence", async () => {
    const { session } = setUp();
    await session.markRecording("anna.wav", Promise.reject(new Error("the file is gone")), "anybody's");
    expect(session.getState()).toMatchObject({ trouble: "anna.wav cannot be marked: the file is gone." });
  });
});
