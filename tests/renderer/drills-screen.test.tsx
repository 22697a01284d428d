import { cleanup, fireEvent, render, screen, within } from "@testing-library/react";
import { useState } from "react";
import { afterEach, describe, expect, test } from "vitest";
import { bpm } from "../../core/units.ts";
import { choiceOfSettings, type DrillChoice, FIRST_CHOICE } from "../../renderer/drills/drill-choice.ts";
import { DrillsScreen } from "../../renderer/drills/drills-screen.tsx";
import { EMPTY_SHELF, type Shelf } from "../../renderer/drills/shelf.ts";

afterEach(cleanup);

let latest: DrillChoice = FIRST_CHOICE;

/** The screen with its choice kept as the window keeps it: through what the settings can hold. */
function Kept({ first, shelf }: { readonly first: DrillChoice; readonly shelf: Shelf }) {
  const [kept, setKept] = useState<Readonly<Record<string, unknown>>>(first);
  latest = choiceOfSettings(kept);
  return (
    <DrillsScreen
      choice={latest}
      a4Hz={440}
      shelf={shelf}
      onChange={(choice) => setKept(JSON.parse(JSON.stringify(choice)))}
      onPractise={() => {}}
      onHear={async () => () => {}}
    />
  );
}

const show = (first: Partial<DrillChoice> = {}, shelf: Shelf = EMPTY_SHELF) =>
  render(<Kept first={{ ...FIRST_CHOICE, ...first }} shelf={shelf} />);
const choose = (label: string, value: string) =>
  fireEvent.change(screen.getByLabelText(label), { target: { value } });
const openAll = () => {
  for (const details of document.querySelectorAll("details")) {
    details.open = true;
    fireEvent(details, new Event("toggle"));
  }
};

describe("the drill chooser", () => {
  test("asks for everything by fields a keyboard reaches, each with a name, for every kind of drill", () => {
    show({ overbends: true });
    const kinds = within(screen.getByRole("group", { name: "Kind of drill" })).getAllByRole("radio");
    expect(kinds).toHaveLength(11);
    for (const kind of kinds) {
      fireEvent.click(kind);
      openAll();
      const fields = document.querySelectorAll<HTMLInputElement | HTMLSelectElement>("input, select");
      expect(fields.length).toBeGreaterThan(20);
      for (const field of fields) {
        expect(field.labels?.[0]?.textContent?.trim()).toBeTruthy();
        expect(field.tabIndex).toBeGreaterThanOrEqual(0);
        expect(field.disabled).toBe(false);
      }
    }
  });

  test("takes any set of degrees, and names the word that is no degree", () => {
    show({ position: 3, mode: "dorian" });
    choose("Mode", "degrees");
    choose("Degrees", "1 b3 4 5 b7");
    expect(screen.getByText(/^A \(1 b3 4 5 b7\) scale, one octave/)).toBeTruthy();
    choose("Degrees", "1 b3 q4");
    expect(screen.getByRole("alert").textContent).toMatch(/"q4" is not a degree/);
    expect(screen.getByLabelText("Degrees").getAttribute("aria-invalid")).toBe("true");
    expect([latest.mode, latest.degrees]).toEqual(["degrees", "1 b3 q4"]);
  });

  test("sets the drill on a dance's grid, whose parts can then be changed one by one", () => {
    show({ notesPerBeat: 6, kind: "scale" });
    choose("As in a dance", "hornpipe");
    // Trade facts 6: hornpipes are counted in minims, 92-100, with clearly uneven pairs [F 42, F 46].
    expect([latest.noteValue, latest.bpm, latest.notesPerBeat, latest.rhythm]).toEqual([
      "1/2",
      92,
      4,
      "swung",
    ]);
    fireEvent.change(screen.getByLabelText(/^Swing/), { target: { value: "1.5" } });
    expect(latest.swing).toBe(1.5);
    expect((screen.getByLabelText("As in a dance") as HTMLSelectElement).value).toBe("none");
    fireEvent.click(within(screen.getByRole("group", { name: "Notes to the beat" })).getByLabelText("6"));
    expect(latest.notesPerBeat).toBe(6);
  });

  test("offers overblow drills to those who can, in the holes that have them", () => {
    show({ kind: "bend" });
    expect(screen.queryByRole("group", { name: "Which" })).toBeNull();
    fireEvent.click(screen.getByLabelText("bends and overblows"));
    choose("Overblows in holes", "4 6");
    fireEvent.click(screen.getByLabelText("overblow"));
    const holes = [...(screen.getByLabelText("Hole") as HTMLSelectElement).options].map((one) => one.text);
    expect(holes).toEqual(["any", "4", "6"]); // trade facts 2: draw reed higher in holes 1-6, so 4 and 6 overblow
    expect(screen.queryByLabelText("overdraw")).toBeNull(); // 7 to 10 overdraw, and none of them is among these
    choose("Hole", "6");
    expect(screen.getByText(/^6 overblow \(F5\), reached and held/)).toBeTruthy(); // [calc] Bb5 on a C harp, a fourth lower on G
    expect(latest).toMatchObject({ technique: "overblow", bendHole: 6 });
  });

  test("folds away what few need, but not what is set otherwise", () => {
    show({ kind: "scale", fromDegree: "5" });
    expect(screen.getByLabelText("From degree")).toBeTruthy();
    expect(screen.queryByLabelText(/^Count-in/)).toBeNull();
  });

  test("takes on the chords of a tune with its beat and bar, and says where it has none", async () => {
    const backings: Shelf["backings"] = {
      tunes: [
        { id: "one", title: "Chairs Against the Wall" },
        { id: "two", title: "The Wet Field Home" },
      ],
      of: async (id) =>
        id === "one"
          ? {
              kind: "backing",
              chords: "D:2 G:2",
              tempo: { bpm: bpm(116), noteValue: "3/8" },
              beatsPerBar: 2,
              strokes: "long-short",
            }
          : { kind: "none", reason: "The Wet Field Home has no chord symbols" },
    };
    show({ kind: "backing" }, { ...EMPTY_SHELF, backings });
    choose("Or the chords of a tune", "one");
    await screen.findByDisplayValue("D:2 G:2");
    expect(latest).toMatchObject({ noteValue: "3/8", beatsPerBar: 2, bpm: 116, strokes: "long-short" });
    await screen.findByText(/^D-G in D mixolydian, backing/);
    choose("Or the chords of a tune", "two");
    await screen.findByText("The Wet Field Home has no chord symbols.");
    expect(latest.backingChords).toBe("D:2 G:2");
  });
});
