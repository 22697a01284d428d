import { cleanup, render, screen } from "@testing-library/react";
import { afterEach, describe, expect, test } from "vitest";
import { MarksReport } from "../../../renderer/practice/marks-report.tsx";
import { NoTake } from "../../../renderer/practice/no-take.tsx";
import { PracticeSession } from "../../../renderer/practice/practice-session.ts";
import { TakeFiles } from "../../../renderer/practice/take-files.tsx";
import { playedEntries } from "../played-entries.ts";
import { PretendWorld } from "./doubles.ts";

afterEach(cleanup);

const [played] = playedEntries();
if (played === undefined) throw new Error("nothing was played");
const { exercise, attempt } = played;

describe("an attempt whose take is no longer kept", () => {
  test("is opened with its marks, and hearing the take does nothing", () => {
    const world = new PretendWorld(exercise);
    const session = new PracticeSession(exercise, world.services(), {
      latencyMs: 0,
      beatWhilePlaying: "heard",
    });
    session.reopen("kept", attempt, null, "microphone");
    session.hearTake(0);
    expect(session.getState()).toMatchObject({ kind: "marked", take: null, hearingSeconds: null });
    expect(world.log).toEqual([]);
  });

  test("says so, saves its marks, and offers nothing that needs the take", () => {
    render(
      <>
        <NoTake />
        <MarksReport exercise={exercise} attempt={attempt} onHearFrom={null} onDrill={() => {}} />
        <TakeFiles exercise={exercise} attempt={attempt} take={null} />
      </>,
    );
    expect(screen.getByText(/^The take is no longer kept/)).toBeTruthy();
    expect(screen.queryAllByRole("button", { name: /from here/ })).toEqual([]);
    expect(screen.queryByRole("button", { name: /WAV/ })).toBeNull();
    expect(screen.getByRole("button", { name: "Save the marks (CSV)" })).toBeTruthy();
  });
});
