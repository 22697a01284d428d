import { cleanup, render, screen } from "@testing-library/react";
import { afterEach, expect, test } from "vitest";
import { listenToTake } from "../../../core/listen/listen-to-take.ts";
import { seconds } from "../../../core/units.ts";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import { markedState, type PracticeState } from "../../../renderer/practice/practice-state.ts";
import { StateLine } from "../../../renderer/practice/state-line.tsx";
import { playedEntries } from "../played-entries.ts";
import { PretendWorld } from "./doubles.ts";

afterEach(cleanup);

const [played] = playedEntries();
if (played === undefined) throw new Error("nothing was played");
const { exercise, attempt } = played;
const session = new PracticeSession(exercise, new PretendWorld(exercise).services(), {
  latencyMs: 0,
  beatWhilePlaying: "heard",
});
const line = (state: PracticeState) =>
  render(<StateLine exercise={exercise} session={session} state={state} />);

test("the line under the marks says how much of the sound is missing, and nothing where none is", () => {
  const take = { samples: new Float32Array(48_000), sampleRateHz: 48_000 };
  const whole = listenToTake(take.samples, take.sampleRateHz);
  const holes = [
    { fromSeconds: seconds(0.1), toSeconds: seconds(0.3) },
    { fromSeconds: seconds(0.5), toSeconds: seconds(0.62) },
  ];
  const marked = markedState(attempt, take, { ...whole, holes }, "microphone");
  line({ ...marked, keeping: { kind: "kept", id: "one" } });
  // [calc] 0.2 s + 0.12 s
  expect(
    screen.getByText("0.32 s of the sound never arrived: what lies there is not measured."),
  ).toBeTruthy();
  cleanup();
  line({ ...markedState(attempt, take, whole, "microphone"), keeping: { kind: "kept", id: "one" } });
  expect(screen.queryByText(/never arrived/)).toBeNull();
});

test("a take that broke off says that the microphone is closed, and when it still looks at what was recorded", () => {
  line({ kind: "broken off", trouble: { kind: "unplugged" }, wholeNotes: null });
  expect(screen.getByText("The microphone is closed. Looking at what was recorded …")).toBeTruthy();
  cleanup();
  line({ kind: "broken off", trouble: { kind: "unplugged" }, wholeNotes: 2 });
  expect(screen.getByText("The microphone is closed.")).toBeTruthy();
});
