import { cleanup, fireEvent, render, screen, waitFor, within } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { ladderState, USUAL_RULE } from "../../core/exercise/tune-ladder.ts";
import { planTune } from "../../core/exercise/tune-plan.ts";
import { PLAIN_AND_BENDS } from "../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../../core/instrument/stock-layouts.ts";
import type { HarpsToOwn } from "../../core/path/harps-to-own.ts";
import { FIRST_WEIGHTS, WEIGHT_NAMES, WEIGHTS } from "../../core/path/weights.ts";
import { BreathPart } from "../../renderer/tunes/breath-part.tsx";
import { LadderPart } from "../../renderer/tunes/ladder-part.tsx";
import { OwnPart } from "../../renderer/tunes/own-part.tsx";
import { PhrasePart } from "../../renderer/tunes/phrase-part.tsx";
import { danceTempo, type OpenTune, stretchExercise } from "../../renderer/tunes/tune-view.ts";
import type { TuneWork } from "../../renderer/tunes/tune-work.ts";
import { WeightsPart } from "../../renderer/tunes/weights-part.tsx";
import { harp } from "../support/harps.ts";
import { readTune } from "../support/tune-drills.ts";

afterEach(cleanup);

const ABC =
  "X:1\nT:a hornpipe of ours\nR:hornpipe\nM:4/4\nL:1/8\nK:D\n|:d2fd Adfd|gfed c2e2|d2fd Adfd|cAce d4|d2fd Adfd|gfed c2e2|d2fd Adfd|cAce d4:|";
const open: OpenTune = { id: "t", tune: readTune(ABC), abc: ABC, voices: [], study: { id: "t" } };
const planOf = (one: OpenTune) =>
  planTune({
    tune: one.tune,
    harps: [harp("D")],
    abilities: PLAIN_AND_BENDS,
    weights: FIRST_WEIGHTS,
    tempo: one.tune.tempo,
    octaves: null,
    pins: [],
    even: false,
    phraseBars: 4,
    phrases: null,
    rule: USUAL_RULE,
  });
const plan = planOf(open);

describe("the parts of an open tune", () => {
  test("every weight of the path is shown with its reason and source, and is changed by the player", () => {
    const onWeights = vi.fn();
    render(<WeightsPart weights={FIRST_WEIGHTS} onWeights={onWeights} />);
    for (const name of WEIGHT_NAMES) expect(screen.getByText(new RegExp(WEIGHTS[name].reason))).toBeTruthy();
    const box = screen.getByLabelText(new RegExp(`^${WEIGHTS.breathChange.name}`));
    fireEvent.change(box, { target: { value: "2" } });
    fireEvent.blur(box);
    expect(onWeights).toHaveBeenLastCalledWith({ ...FIRST_WEIGHTS, breathChange: 2 });
  });

  test("a weight that contradicts another is refused in place, by their names", () => {
    const onWeights = vi.fn();
    render(<WeightsPart weights={FIRST_WEIGHTS} onWeights={onWeights} />);
    const box = screen.getByLabelText(new RegExp(`^${WEIGHTS.leastHurry.name}`));
    fireEvent.change(box, { target: { value: String(FIRST_WEIGHTS.mostHurry + 1) } });
    fireEvent.blur(box);
    expect(onWeights).not.toHaveBeenCalled();
    const words = screen.getByRole("alert").textContent;
    expect(words).toContain(WEIGHTS.leastHurry.name);
    expect(words).toContain(`above "${WEIGHTS.mostHurry.name}"`);
    fireEvent.change(box, { target: { value: "0.3" } });
    fireEvent.blur(box);
    expect(onWeights).toHaveBeenCalled();
    expect(screen.queryByRole("alert")).toBeNull();
  });

  test("the rule for moving up is stated and each of its numbers is changed by the player", () => {
    const onRule = vi.fn();
    const states = ladderState(plan.ladder, [], new Set(), USUAL_RULE);
    const part = { states, danceBpm: danceTempo(open), rule: USUAL_RULE, onRule, onClimb: () => {} };
    render(<LadderPart {...part} />);
    expect(screen.getByText(/Up after 2 in a row with 90 % of the notes right, within ±40 ms/)).toBeTruthy();
    for (const [label, value, changed] of [
      [/^In a row/, "3", { rightShare: 0.9, spreadMs: 40, inARow: 3 }],
      [/^Right/, "80", { rightShare: 0.8, spreadMs: 40, inARow: 2 }],
      [/^Spread/, "60", { rightShare: 0.9, spreadMs: 60, inARow: 2 }],
    ] as const) {
      const box = screen.getByLabelText(label);
      fireEvent.change(box, { target: { value } });
      fireEvent.blur(box);
      expect(onRule).toHaveBeenLastCalledWith(changed);
    }
  });

  test("every rung says its tempo with the note value it counts", () => {
    const states = ladderState(plan.ladder, [], new Set(), USUAL_RULE);
    render(
      <LadderPart
        states={states}
        danceBpm={danceTempo(open)}
        rule={USUAL_RULE}
        onRule={() => {}}
        onClimb={() => {}}
      />,
    );
    const rungs = within(screen.getByRole("list")).getAllByRole("button");
    expect(rungs.length).toBeGreaterThan(3);
    for (const rung of rungs) expect(rung.textContent).toMatch(/(♩|crotchet|minim|𝅗𝅥)\.? = \d+$/);
  });

  test("phrases are cut, joined and found anew, any bars looped, the swing and the dance tempo changed", () => {
    const onChange = vi.fn();
    const onPractise = vi.fn();
    render(<PhrasePart open={open} plan={plan} chosen={3} onChange={onChange} onPractise={onPractise} />);
    fireEvent.click(screen.getByRole("button", { name: /^Join with next/ }));
    expect(onChange.mock.lastCall?.[0].phrases).toHaveLength(plan.phrases.length - 1);
    fireEvent.click(screen.getByRole("button", { name: "Cut before the chosen note" }));
    expect(onChange.mock.lastCall?.[0].phrases).toHaveLength(plan.phrases.length + 1);
    for (const [label, value, part] of [
      [/^Swing/, "3", { swing: 3 }],
      [/^Dance tempo/, "88", { danceBpm: 88 }],
    ] as const) {
      const box = screen.getByLabelText(label);
      fireEvent.change(box, { target: { value } });
      fireEvent.blur(box);
      expect(onChange).toHaveBeenLastCalledWith(part);
    }
    fireEvent.click(screen.getByRole("button", { name: "Practise these bars" }));
    const [first, second] = open.tune.bars;
    if (first === undefined || second === undefined) throw new Error("there are bars");
    const span = { startTicks: first.startTicks, endTicks: second.startTicks + second.lengthTicks };
    expect(onPractise).toHaveBeenLastCalledWith(span, "bars 1–2", 0.7, 4, null);
  });

  test("the swing a player sets is the rhythm of what is practised", () => {
    const [phrase] = plan.phrases;
    if (phrase === undefined) throw new Error("there is a phrase");
    const stretch = { words: phrase.words, span: phrase, tempoShare: 0.6, times: 1, rung: null };
    const rhythmAt = (swing: number) => {
      const made = stretchExercise({ ...open, study: { id: "t", swing } }, plan, PLAIN_AND_BENDS, stretch);
      return made.kind === "exercise" ? made.exercise.rhythm : null;
    };
    expect(rhythmAt(3)).toEqual({ kind: "swung", ratio: 3 });
    expect(rhythmAt(1)).toBeUndefined();
  });

  test("a path that evens the breath is asked for with one box", () => {
    const onEven = vi.fn();
    render(<BreathPart plan={plan} even={false} onEven={onEven} />);
    fireEvent.click(screen.getByRole("checkbox", { name: /a path that evens the breath/ }));
    expect(onEven).toHaveBeenCalledWith(true);
  });
});

describe("looking for harps", () => {
  type Own = TuneWork["own"];
  const show = (own: Own) =>
    render(
      <OwnPart
        count={3}
        onTexts={async () => [ABC]}
        layout={STANDARD_LAYOUT}
        owned={[]}
        abilities={PLAIN_AND_BENDS}
        work={{ own } as unknown as TuneWork}
      />,
    );

  test("shows how far it is, and is stopped by its button", async () => {
    let signal: AbortSignal | null = null;
    show((_, onProgress, given) => {
      signal = given;
      onProgress({ done: 40, of: 1000 });
      return new Promise((_resolve, reject) => {
        given.addEventListener("abort", () => reject(new DOMException("stopped", "AbortError")));
      });
    });
    fireEvent.click(screen.getByRole("button", { name: "Find them" }));
    await waitFor(() => expect(screen.getByRole("status").textContent).toMatch(/40 of 1000/));
    expect(screen.getByRole("progressbar").getAttribute("value")).toBe("40");
    fireEvent.click(screen.getByRole("button", { name: "Stop" }));
    await waitFor(() => expect(screen.queryByRole("status")).toBeNull());
    expect((signal as AbortSignal | null)?.aborted).toBe(true);
    expect(screen.queryByRole("alert")).toBeNull();
  });

  test("says what the fewest are and what each further harp adds, and that fewer might do where it is not proved", async () => {
    const [one, two] = [harp("D"), harp("G")];
    const found: HarpsToOwn = {
      alreadyPlayed: [],
      unplayable: [2],
      smallest: [one, two],
      provedSmallest: false,
      bestOfSize: [],
      oneByOne: [
        { harp: one, adds: 1, tunes: 1 },
        { harp: two, adds: 1, tunes: 2 },
      ],
    };
    show(async () => ({ harps: found, tunes: 3 }));
    fireEvent.click(screen.getByRole("button", { name: "Find them" }));
    const told = await screen.findByText(/Perhaps 2 harps play 2 of 3/);
    expect(told.textContent).toMatch(/1 is beyond any of them/);
    expect(screen.getAllByRole("row").slice(1)).toHaveLength(2);
  });
});
