import { cleanup, fireEvent, render, screen, within } from "@testing-library/react";
import { useState } from "react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { stockLayout } from "../../core/instrument/stock-layouts.ts";
import type { Hz } from "../../core/units.ts";
import { HarpsScreen } from "../../renderer/harps/harps-screen.tsx";
import { InstrumentScreen } from "../../renderer/instrument/instrument-screen.tsx";
import { FIRST_VIEW, type InstrumentView } from "../../renderer/instrument/instrument-view.ts";
import type { OwnedHarp, OwnLayout } from "../../renderer/store/harp-store.ts";

afterEach(cleanup);

interface SeenProps {
  readonly first?: Partial<InstrumentView>;
  readonly onSound?: (pitches: readonly Hz[]) => void;
  readonly onKeep?: (layout: OwnLayout) => void;
}

/** The screen with a view that changes, as the app holds it. */
function Seen({ first = {}, onSound = () => {}, onKeep = () => {} }: SeenProps) {
  const [view, setView] = useState<InstrumentView>({ ...FIRST_VIEW, ...first });
  return (
    <InstrumentScreen
      view={view}
      a4Hz={440}
      own={[]}
      onView={setView}
      onSound={onSound}
      newId={() => "new"}
      onKeep={onKeep}
      onDelete={() => {}}
    />
  );
}

const C_HARP = { ...FIRST_VIEW.chosen, key: "C" };
const reed = (name: RegExp) => screen.getByRole("button", { name });

describe("the instrument screen", () => {
  test("a reed says hole, breath, note and degree, and sounds its pitch", () => {
    const onSound = vi.fn();
    render(<Seen first={{ chosen: C_HARP }} onSound={onSound} />);
    // [F trade table] C harp, 4 blow C5, fourth of G; 2 draw G4, home note of second position.
    fireEvent.click(reed(/^4 blow: C5, degree 4$/));
    fireEvent.click(reed(/^2 draw: G4, home note$/));
    // [calc] C5 = 440·2^(3/12), G4 = 440·2^(-2/12), to 0.01 Hz.
    expect(onSound.mock.calls[0]?.[0][0]).toBeCloseTo(523.25, 2);
    expect(onSound.mock.calls[1]?.[0][0]).toBeCloseTo(392.0, 1);
  });

  test("a bend outside the mode is named as its degree says", () => {
    render(<Seen first={{ chosen: C_HARP }} />);
    // [F trade table] C harp: draw bends Db4 in hole 1, Gb4 and F4 in 2; [calc] in G mixolydian Db is b5, Gb is its 7, F#.
    expect(reed(/^1 draw, bent 1 semitone: Db4, degree b5, outside the mode$/)).toBeTruthy();
    expect(reed(/^2 draw, bent 1 semitone: F#4, degree 7, outside the mode$/)).toBeTruthy();
    expect(reed(/^2 draw, bent 2 semitones: F4, degree b7$/)).toBeTruthy();
  });

  test("says in one sentence what is missing to a player of plain notes, and marks it in the table in words", () => {
    render(<Seen first={{ chosen: C_HARP, position: 1, mode: "major", skill: "plain" }} />);
    // [F trade table] standard C harp: F4 and A4 missing in the low octave, B6 in the top one; 4 blow up to 10 draw unbroken.
    expect(screen.getByRole("status").textContent).toBe(
      "1st position, C major: longest plain run 14 notes, B4 to A6; missing F4 (4), A4 (6), B6 (7).",
    );
    const degrees = screen.getByRole("table", { name: "Degrees in each octave" });
    expect(within(degrees).getAllByText("missing")).toHaveLength(3);
  });

  test("a position brings the mode its reeds give, and the chords their numerals", () => {
    render(<Seen first={{ chosen: C_HARP }} />);
    fireEvent.change(screen.getByLabelText("Position"), { target: { value: "3" } });
    expect((screen.getByLabelText("Mode") as HTMLSelectElement).value).toBe("dorian");
    // [P] D dorian: i is Dm, found on 4-5-6 draw (D F A).
    const row = screen.getByRole("row", { name: /^i Dm D F A/ });
    expect(within(row).getByText(/^complete/)).toBeTruthy();
    expect(within(row).getByRole("button", { name: /4-5-6 draw/ })).toBeTruthy();
  });

  test("a chord sounds all its holes together", () => {
    const onSound = vi.fn();
    render(<Seen first={{ chosen: C_HARP, position: 1, mode: "major" }} onSound={onSound} />);
    fireEvent.click(screen.getByRole("button", { name: /^Hear C on 1-2-3 blow/ }));
    // [calc] C4, E4, G4 of equal temperament on 440 Hz.
    const [pitches] = onSound.mock.calls[0] ?? [[]];
    expect(pitches.map((pitch: number) => pitch.toFixed(1))).toEqual(["261.6", "329.6", "392.0"]);
  });

  test("raising 5 draw gives the country layout, says what is unusual, and keeps it under its own name", () => {
    const onKeep = vi.fn();
    render(<Seen first={{ chosen: C_HARP }} onKeep={onKeep} />);
    fireEvent.click(screen.getByRole("button", { name: "Change this layout" }));
    fireEvent.keyDown(reed(/^5 draw: /), { key: "ArrowUp" });
    expect(screen.getByText(/octaves differ: 5 draw is #4/)).toBeTruthy();
    fireEvent.change(screen.getByLabelText("Name"), { target: { value: "standard" } });
    expect(screen.getByText(/A layout of the catalogue is called so/)).toBeTruthy();
    fireEvent.change(screen.getByLabelText("Name"), { target: { value: " mine " } });
    fireEvent.click(screen.getByRole("button", { name: "Save to my layouts" }));
    const [kept] = onKeep.mock.calls[0] ?? [];
    expect(kept.id).toBe("new");
    expect(kept.layout.name).toBe("mine");
    expect(kept.layout.holes).toEqual(stockLayout("country")?.holes);
  });

  test("a high harp of a key made in two registers sounds an octave above", () => {
    render(<Seen />);
    expect(reed(/^1 blow: G3/)).toBeTruthy();
    fireEvent.click(screen.getByLabelText("high"));
    expect(reed(/^1 blow: G4/)).toBeTruthy();
    // [M] no other key is made high: choosing C goes back to the usual register.
    fireEvent.change(screen.getByLabelText("Key"), { target: { value: "C" } });
    expect(reed(/^1 blow: C4/)).toBeTruthy();
  });
});

describe("my harps", () => {
  const nothing = {
    own: [],
    a4Hz: 440,
    newId: () => "new",
    onKeep: () => {},
    onDelete: () => {},
    onShow: () => {},
  };

  test("says what will be here, while it reads, and what is wrong", () => {
    const { rerender } = render(<HarpsScreen {...nothing} list={{ kind: "harps", harps: [] }} />);
    expect(screen.getByText(/Add the ones you own/)).toBeTruthy();
    rerender(<HarpsScreen {...nothing} list={{ kind: "loading" }} />);
    expect(screen.getByRole("status").textContent).toMatch(/Reading/);
    rerender(<HarpsScreen {...nothing} list={{ kind: "trouble", words: "The disk is full." }} />);
    expect(screen.getByRole("alert").textContent).toBe("The disk is full.");
  });

  test("a harp is kept as chosen, and changed from what it was", () => {
    const kept: OwnedHarp[] = [];
    const list = { kind: "harps", harps: kept } as const;
    const { rerender } = render(<HarpsScreen {...nothing} list={list} onKeep={(harp) => kept.push(harp)} />);
    fireEvent.click(screen.getByRole("button", { name: "Add a harp" }));
    fireEvent.change(screen.getByLabelText("Key"), { target: { value: "D" } });
    fireEvent.click(screen.getByLabelText("low"));
    fireEvent.change(screen.getByLabelText("Temperament"), { target: { value: "just-sevenths" } });
    fireEvent.change(screen.getByLabelText("Note"), { target: { value: " for the autumn dances " } });
    fireEvent.click(screen.getByRole("button", { name: "Keep this harp" }));
    const [harp] = kept;
    if (harp === undefined) throw new Error("no harp was kept");
    expect(harp.id).toBe("new");
    expect(harp.note).toBe("for the autumn dances");
    // [F] low D: D3 = 50, an octave below D4.
    expect(harp.harp.keyNote).toBe(50);
    expect(harp.harp.temperament).toEqual({ kind: "scheme", scheme: "just-sevenths" });
    rerender(<HarpsScreen {...nothing} list={{ kind: "harps", harps: [harp] }} />);
    expect(screen.getByRole("button", { name: "low D harp" })).toBeTruthy();
    expect(screen.getByText("just with pure sevenths")).toBeTruthy();
    fireEvent.click(screen.getByRole("button", { name: "Change low D harp" }));
    expect((screen.getByLabelText("Note") as HTMLInputElement).value).toBe("for the autumn dances");
    expect((screen.getByLabelText("low") as HTMLInputElement).checked).toBe(true);
  });
});
