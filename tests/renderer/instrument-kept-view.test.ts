import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { renameLayout } from "../../core/instrument/change-layout.ts";
import { soundingRange } from "../../core/instrument/harp.ts";
import type { ReedAction } from "../../core/instrument/reed-actions.ts";
import { scaleReport } from "../../core/instrument/scale-report.ts";
import { STANDARD_LAYOUT, stockLayout } from "../../core/instrument/stock-layouts.ts";
import { targetHzOf } from "../../core/instrument/target-cents.ts";
import { cents, semitones } from "../../core/units.ts";
import {
  ABILITIES_OF,
  FIRST_VIEW,
  type InstrumentView,
  leaveDraft,
  scaleOfView,
} from "../../renderer/instrument/instrument-view.ts";
import { viewOfSettings, viewToKeep } from "../../renderer/instrument/kept-view.ts";
import {
  beginDraft,
  changeDraft,
  renameDraft,
  stepReed,
  undoDraft,
} from "../../renderer/instrument/layout-draft.ts";
import { harpOfChoice } from "../../renderer/ui/chosen-harp.ts";

const country = stockLayout("country") ?? STANDARD_LAYOUT;
const begun = renameLayout(country, "country, changed");
const once = changeDraft(beginDraft(begun, "own-1"), stepReed(begun, 3, "blow", 2));
const draft = undoDraft(changeDraft(once, stepReed(once.now, 9, "draw", 1)));

const VIEW: InstrumentView = {
  chosen: {
    layout: country,
    key: "D",
    register: "low",
    temperament: { kind: "scheme", scheme: "just-sevenths" },
  },
  position: 3,
  mode: "dorian",
  skill: "bends",
  draft,
  left: null,
};

/** As the browser's database gives it back. */
const kept = (view: InstrumentView) => structuredClone<Record<string, unknown>>(viewToKeep(view));

describe("what was looked at on the instrument screen", () => {
  test("comes back as it was, with the layout being changed and the way back and forth", () => {
    expect(viewOfSettings(kept(VIEW))).toEqual(VIEW);
  });

  test("is the first harp until something was kept", () => {
    expect(viewOfSettings(null)).toEqual(FIRST_VIEW);
  });

  test.each([
    { kind: "equal", stretchCentsPerOctave: cents(2) },
    { kind: "scale", name: "a scale", steps: [cents(204), cents(702), cents(1200)] },
    { kind: "reeds", name: "my own cents", holes: [{ blow: cents(-3), draw: null }] },
  ] as const)("comes back in its temperament: $kind", (temperament) => {
    const view = { ...VIEW, chosen: { ...VIEW.chosen, temperament } };
    expect(viewOfSettings(kept(view))).toEqual(view);
  });

  test.each(["", " ", "standard", "x".repeat(81)])(
    "a draft whose name %j cannot be kept yet stays a draft",
    (name) => {
      const named = { ...VIEW, draft: { ...renameDraft(draft, name), naming: false } };
      expect(viewOfSettings(kept(named)).draft).toEqual(named.draft);
    },
  );

  test("of a hundred changes the last fifty can be taken back", () => {
    let long = beginDraft(begun, null);
    for (let n = 0; n < 100; n++)
      long = changeDraft(long, stepReed(long.now, 1, "draw", n % 2 === 0 ? 1 : -1));
    const again = viewOfSettings(kept({ ...VIEW, draft: long })).draft;
    expect(again?.now).toEqual(long.now);
    expect(again?.past).toEqual(long.past.slice(-50));
  });

  test.each([
    ["key", "H"],
    ["register", "middle"],
    ["temperament", { kind: "scheme", scheme: "none" }],
    ["position", 13],
    ["mode", "loud"],
    ["skill", null],
    ["draft", { now: { name: "x", holes: [] } }],
    ["draft", { ...draft, now: { ...draft.now, holes: [{ blow: null, draw: null }] } }],
    ["draft", { ...draft, now: { ...draft.now, name: 7 } }],
    ["draft", "everything"],
  ] as const)("a damaged %s has its first value and the rest stays", (field, value) => {
    const { layout, key, register, temperament } = VIEW.chosen;
    const mended = viewOfSettings({ ...kept(VIEW), [field]: value });
    const first: Record<string, unknown> = { ...FIRST_VIEW.chosen, ...FIRST_VIEW };
    // [M] G harps are not made low: with the key the register goes as well.
    const itsRegister = field === "key" || field === "register" ? "usual" : register;
    expect(mended).toEqual({
      ...VIEW,
      ...(field in FIRST_VIEW ? { [field]: first[field] } : {}),
      chosen: {
        layout,
        key: field === "key" ? first.key : key,
        register: itsRegister,
        temperament: field === "temperament" ? first.temperament : temperament,
      },
    });
  });

  test("a damaged step leaves the draft without that way, never with a jump in it", () => {
    const damaged = { ...draft, past: [draft.begun, { holes: "none" }], future: draft.future };
    const again = viewOfSettings({ ...kept(VIEW), draft: damaged }).draft;
    expect(again).toEqual({ ...draft, past: [] });
  });

  test("whatever is kept, the screen has a harp it can show and sound", () => {
    const reed = fc.option(fc.integer({ min: -30, max: 70 }));
    const layout = fc.record(
      {
        id: fc.string(),
        name: fc.string(),
        holes: fc.array(fc.record({ blow: reed, draw: reed })),
        positionKey: fc.nat(),
      },
      { requiredKeys: [] },
    );
    const stored = fc.record(
      {
        layout: fc.oneof(layout, fc.anything()),
        key: fc.oneof(fc.constantFrom("G", "D", "X"), fc.anything()),
        register: fc.constantFrom("low", "high", 3),
        temperament: fc.oneof(
          fc.record({ kind: fc.constantFrom("equal", "scale", "reeds"), steps: fc.array(fc.double()) }),
          fc.anything(),
        ),
        draft: fc.record(
          { now: layout, past: fc.array(fc.oneof(layout, fc.anything())), begun: fc.anything() },
          { requiredKeys: [] },
        ),
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(stored, (data) => {
        const view = viewOfSettings(data);
        const harp = harpOfChoice({ ...view.chosen, layout: view.draft?.now ?? view.chosen.layout }, 440);
        const scale = scaleOfView(harp, view);
        const { octaves } = scaleReport(harp, scale, ABILITIES_OF[view.skill]);
        // A harp of one or two reeds may have no note of the mode within its range; then there is no octave to show.
        const { low, high } = soundingRange(harp);
        const range = Array.from({ length: high - low + 1 }, (_, step) => low + step);
        const hasDegree = range.some((note) =>
          scale.degrees.some(({ aboveHome }) => (note - scale.home - aboveHome) % 12 === 0),
        );
        expect(octaves.length > 0 || !hasDegree).toBe(true);
        harp.layout.holes.forEach((hole, index) => {
          if (hole.blow === null) return;
          const action: ReedAction = {
            hole: index + 1,
            breath: "blow",
            technique: "plain",
            bentSemitones: semitones(0),
          };
          expect(Number.isFinite(targetHzOf(harp, action))).toBe(true);
        });
      }),
    );
  });
});

describe("leaving a layout being changed", () => {
  test("keeps its changes for the way back, and nothing where nothing was changed", () => {
    expect(leaveDraft(VIEW)).toEqual({ ...VIEW, draft: null, left: draft });
    const untouched = { ...VIEW, draft: beginDraft(begun, null) };
    expect(leaveDraft(untouched)).toEqual({ ...VIEW, draft: null, left: null });
  });
});
