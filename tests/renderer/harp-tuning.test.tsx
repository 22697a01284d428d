import { cleanup, fireEvent, render, screen } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { harpInKey, withTemperament } from "../../core/instrument/harp.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import { targetCents } from "../../core/instrument/target-cents.ts";
import { EQUAL, type Temperament } from "../../core/instrument/temperament.ts";
import { cents, semitones } from "../../core/units.ts";
import { HarpsScreen } from "../../renderer/harps/harps-screen.tsx";
import { OwnTuning } from "../../renderer/harps/own-tuning.tsx";
import type { OwnedHarp } from "../../renderer/store/harp-store.ts";

afterEach(cleanup);

const draw = (hole: number) =>
  ({ hole, breath: "draw", technique: "plain", bentSemitones: semitones(0) }) as const;

/** Target of a draw reed of a G harp in a temperament. */
function target(temperament: Temperament, hole: number): number {
  const harp = harpInKey(STANDARD_LAYOUT, "G");
  if (harp === null) throw new Error("G is a key");
  return targetCents(withTemperament(harp, temperament), draw(hole));
}

function show(temperament: Temperament) {
  const onChange = vi.fn<(temperament: Temperament) => void>();
  render(<OwnTuning layout={STANDARD_LAYOUT} temperament={temperament} onChange={onChange} />);
  return onChange;
}

/** What the last change made of the temperament. */
function last(onChange: ReturnType<typeof show>): Temperament {
  const call = onChange.mock.lastCall;
  if (call === undefined) throw new Error("nothing was changed");
  return call[0];
}

describe("a harp whose reeds were measured", () => {
  test("keeps what was measured when its note is changed, not when it becomes another harp", () => {
    const harp = harpInKey(STANDARD_LAYOUT, "G");
    if (harp === null) throw new Error("G is a key");
    const reedOffsets = STANDARD_LAYOUT.holes.map(() => ({ blow: cents(9), draw: null }));
    const owned = { id: "a", harp: { ...harp, reedOffsets }, note: "" };
    const onKeep = vi.fn<(owned: OwnedHarp) => void>();
    const nothing = () => {};
    const screenOf = () => (
      <HarpsScreen
        list={{ kind: "harps", harps: [owned] }}
        own={[]}
        a4Hz={440}
        newId={() => "new"}
        onKeep={onKeep}
        onDelete={nothing}
        onShow={nothing}
      />
    );
    render(screenOf());
    fireEvent.click(screen.getByRole("button", { name: /^Change/ }));
    fireEvent.change(screen.getByLabelText("Note"), { target: { value: "for dances" } });
    fireEvent.click(screen.getByRole("button", { name: "Keep this harp" }));
    expect(onKeep.mock.lastCall?.[0]).toEqual({
      ...owned,
      note: "for dances",
      harp: { ...owned.harp, temperament: EQUAL },
    });
    fireEvent.click(screen.getByRole("button", { name: /^Change/ }));
    fireEvent.change(screen.getByLabelText("Key"), { target: { value: "A" } });
    fireEvent.click(screen.getByRole("button", { name: "Keep this harp" }));
    expect(onKeep.mock.lastCall?.[0].harp.reedOffsets).toBeUndefined();
  });
});

describe("the tuning of an owned harp", () => {
  test("can be given reed by reed, and becomes each reed's target", () => {
    const begun = show(EQUAL);
    fireEvent.click(screen.getByRole("button", { name: /My own cents/ }));
    cleanup();
    const onChange = show(last(begun));
    fireEvent.change(screen.getByLabelText(/^3 draw/), { target: { value: "-12" } });
    const own = last(onChange);
    expect(target(own, 3)).toBe(-12);
    expect(target(own, 4)).toBe(0);
  });

  test("has a field for each reed there is, and takes no number out of bounds", () => {
    const onChange = show({ kind: "reeds", name: "my own cents", holes: [] });
    expect(screen.getAllByRole("spinbutton")).toHaveLength(20); // ten holes, two reeds each
    fireEvent.change(screen.getByLabelText(/^1 blow/), { target: { value: "400" } });
    expect(onChange).not.toHaveBeenCalled();
  });

  test("can come from a Scala file", async () => {
    const onChange = show(EQUAL);
    // Scala format: description, count, pitches. A pure major scale: 5/4 is 386.31 cents (fact sheet, section 3 [calc]).
    const text = "! ours.scl\na pure major scale\n7\n9/8\n5/4\n4/3\n3/2\n5/3\n15/8\n2/1\n";
    fireEvent.change(screen.getByLabelText("Scala file"), {
      target: { files: [new File([text], "ours.scl")] },
    });
    await vi.waitFor(() => expect(onChange).toHaveBeenCalledOnce());
    // 3 draw of a G harp is F sharp, 15/8 above G: [calc] 1200·log2(15/8) - 1100 = -11.73
    expect(target(last(onChange), 3)).toBeCloseTo(-11.73, 2);
  });

  test("that cannot be read says where the file is wrong, and changes nothing", async () => {
    const onChange = show(EQUAL);
    fireEvent.change(screen.getByLabelText("Scala file"), {
      target: { files: [new File(["one\n2\n9/8\nwords\n"], "bad.scl")] },
    });
    const said = await screen.findByRole("alert");
    expect(said.textContent).toMatch(/^bad\.scl: .*4/);
    expect(onChange).not.toHaveBeenCalled();
  });
});
