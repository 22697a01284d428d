import { cleanup, fireEvent, render, screen, within } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { countInSeconds, onsetOf, targetMidi } from "../../core/exercise/exercise.ts";
import { scoreTake } from "../../core/score/score-take.ts";
import { semitones } from "../../core/units.ts";
import { MarksReport } from "../../renderer/practice/marks-report.tsx";
import { Measures } from "../../renderer/practice/measures.tsx";
import { doInWords } from "../../renderer/ui/breath-words.ts";
import { NumberChoice } from "../../renderer/ui/choice.tsx";
import { exerciseOf } from "../support/drills.ts";
import { heardNote, listeningOf } from "../support/listenings.ts";

afterEach(cleanup);

const exercise = exerciseOf();
const right = exercise.notes.map((note) =>
  heardNote(countInSeconds(exercise) + onsetOf(exercise, note), targetMidi(exercise, note)),
);

describe("the marks in words", () => {
  const faulty = right
    .map((note, n) => (n === 4 ? heardNote(note.onSeconds, Number(note.pitchMidi) + 2) : note))
    .filter((_, n) => n !== 7);
  const attempt = scoreTake(exercise, listeningOf(faulty));

  test("every note has its row, with unit-bearing headings and a way to hear it", () => {
    const onHearFrom = vi.fn();
    render(<MarksReport exercise={exercise} attempt={attempt} onHearFrom={onHearFrom} onDrill={() => {}} />);
    const rows = screen.getAllByRole("row", { hidden: true });
    expect(rows).toHaveLength(exercise.notes.length + 1);
    const wrong = rows[5];
    if (wrong === undefined) throw new Error("the fifth note has a row");
    expect(wrong.textContent).toMatch(/wrong: heard B5 \(8\)/); // [calc] note 5 is A5, 8 draw; two semitones up is B5, 8 blow
    fireEvent.click(within(wrong).getByRole("button", { hidden: true }));
    expect(onHearFrom).toHaveBeenCalledOnce();
    expect(rows[8]?.textContent).toMatch(/missed/);
  });

  test("what cost most stands above, with a way to the drill for it", () => {
    const onDrill = vi.fn();
    render(<MarksReport exercise={exercise} attempt={attempt} onHearFrom={() => {}} onDrill={onDrill} />);
    expect(screen.getByText("1 of 15 notes: 8 instead of -8 (wrong breath)")).toBeTruthy();
    fireEvent.click(screen.getByRole("button", { name: /Work on it: 8 draw \(A5\) and 8 blow \(B5\)/ }));
    expect(onDrill.mock.lastCall?.[0]).toMatchObject({ kind: "breath-pair" });
  });

  test("the three measures stand apart, each in its own unit", () => {
    render(<Measures attempt={attempt} />);
    expect(screen.getByText("13 of 15 right")).toBeTruthy();
    expect(screen.getByText("1 wrong, 1 missed")).toBeTruthy();
    expect(screen.getByText(/^0\.0 cents ± 0\.0$/)).toBeTruthy();
    expect(screen.getByText(/^0 ms ± 0$/)).toBeTruthy();
  });

  test("an action is told by hole, breath and bend", () => {
    const bend = { hole: 3, breath: "draw", technique: "bend", bentSemitones: semitones(2) } as const;
    expect(doInWords(bend)).toBe("hole 3, breath in, bent 2 semitones");
  });
});

describe("a number field", () => {
  test("takes over what fits, and only that", () => {
    const onChange = vi.fn();
    render(
      <NumberChoice
        legend="Tempo"
        unit="beats a minute"
        value={90}
        low={30}
        high={240}
        step={1}
        onChange={onChange}
      />,
    );
    const field = screen.getByLabelText(/Tempo/) as HTMLInputElement;
    fireEvent.change(field, { target: { value: "9" } });
    expect(onChange).not.toHaveBeenCalled();
    expect(field.getAttribute("aria-invalid")).toBe("true");
    expect(screen.getByText("from 30 to 240")).toBeTruthy();
    fireEvent.change(field, { target: { value: "95" } });
    expect(onChange).toHaveBeenCalledExactlyOnceWith(95);
    fireEvent.change(field, { target: { value: "" } });
    fireEvent.blur(field);
    expect(field.value).toBe("90");
  });
});
