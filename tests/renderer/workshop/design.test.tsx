import { cleanup, fireEvent, render, screen, waitFor } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import band from "../../../assets/tunes/village-band.abc?raw";
import { reedsOf } from "../../../core/instrument/layout.ts";
import { harpsToTry } from "../../../core/path/harps-to-try.ts";
import { wishFaults } from "../../../core/workshop/design/wish-faults.ts";
import { designAnswer } from "../../../renderer/workshop/design/design-answers.ts";
import type { DesignAnswer, DesignAsk } from "../../../renderer/workshop/design/design-messages.ts";
import { DesignPart, type DesignPartProps } from "../../../renderer/workshop/design/design-part.tsx";
import {
  type DesignView,
  FIRST_DESIGN,
  nextScale,
  wishOfView,
  withHarp,
} from "../../../renderer/workshop/design/design-view.ts";
import { designOfSettings, designToKeep } from "../../../renderer/workshop/design/kept-design.ts";
import { loosenedView } from "../../../renderer/workshop/design/loosened-view.ts";

afterEach(cleanup);

/** The tunes of the village band, each by itself. */
const TUNES = band.split(/^(?=X:)/m).filter((text) => text.startsWith("X:"));

function answerTo(ask: Partial<DesignAsk> & Pick<DesignAsk, "wish">): DesignAnswer {
  const work = designAnswer({
    texts: [],
    danceWeights: null,
    harps: harpsToTry({ layouts: [ask.wish.harp.layout], keys: ["G", "D"] }),
    seed: 1,
    ...ask,
  });
  let told = 0;
  for (let step = work.next(); ; step = work.next()) {
    if (step.done === true) return step.value;
    expect(step.value.share).toBeGreaterThanOrEqual(0);
    expect(step.value.share).toBeLessThanOrEqual(1);
    told++;
    if (told > 2_000_000) throw new Error("no end");
  }
}

describe("what a design is kept as", () => {
  test("comes back as it was, and what is damaged has its first value", () => {
    const view: DesignView = {
      ...FIRST_DESIGN,
      stays: ["-4"],
      chords: ["4-5-6 blow"],
      bends: ["-3''"],
      order: "as now",
      freeHoles: [3],
      mostChanged: 5,
    };
    const plain = JSON.parse(JSON.stringify(designToKeep(view)));
    expect(designOfSettings(plain)).toEqual(view);
    expect(designOfSettings({ ...plain, harp: { layout: 3 }, mostSemitones: 99, scales: "all" })).toEqual({
      ...view,
      harp: FIRST_DESIGN.harp,
      mostSemitones: FIRST_DESIGN.mostSemitones,
      scales: FIRST_DESIGN.scales,
    });
    expect(designOfSettings(null)).toEqual(FIRST_DESIGN);
  });

  test("the first one is the whole major scale of second position on a C harp", () => {
    const wish = wishOfView(FIRST_DESIGN, 440);
    expect(wishFaults(wish)).toEqual([]);
    expect(wish.scales).toEqual([{ homeName: "G", home: 7, mode: "major", low: 62, high: 95 }]);
  });

  test("ranges move along with the key; what another layout cannot keep is let go", () => {
    const view = { ...FIRST_DESIGN, stays: ["-4"] };
    const inD = withHarp(view, { ...view.harp, key: "D" });
    // [calc] D4 lies two semitones above C4.
    expect(inD.scales[0]).toMatchObject({ low: 64, high: 97 });
    expect(inD.stays).toEqual(["-4"]);
    const other = { ...view.harp.layout, id: "mine", name: "mine" };
    expect(withHarp(view, { ...view.harp, layout: other }).stays).toEqual([]);
    expect(wishFaults(wishOfView({ ...view, scales: [...view.scales, nextScale(view)] }, 440))).toEqual([]);
  });
});

describe("the answer", () => {
  test("of scales tells the fewest changes and what four keys of each layout play", () => {
    const answer = answerTo({ wish: wishOfView(FIRST_DESIGN, 440), texts: TUNES });
    if (answer.kind !== "found") throw new Error(answer.kind);
    // [P] seven changed reeds.
    expect(answer.rows[0]).toMatchObject({ changed: 7, proved: true, tunes: null });
    expect(answer.rows[0]?.keys?.of).toBe(TUNES.length);
    expect(new Set(answer.rows.map(({ layout }) => layout.id)).size).toBe(answer.rows.length);
  });

  test("of tunes holds the start, and dances that count nothing are left out", () => {
    const view = { ...FIRST_DESIGN, scales: [], mostChanged: 1 };
    const texts = TUNES.slice(0, 4);
    const dances = [...new Set(texts.map((text) => /^R:(.*)$/m.exec(text)?.[1] ?? ""))];
    const none = Object.fromEntries(dances.map((dance) => [dance.replace("-", " "), 0]));
    const wish = wishOfView(view, 440);
    const answer = answerTo({ wish, texts, danceWeights: {} });
    if (answer.kind !== "found") throw new Error(answer.kind);
    expect(answer.start.tunes?.notPlain).toBeGreaterThanOrEqual(
      Math.min(...answer.rows.map((row) => row.tunes?.notPlain ?? 0)),
    );
    expect(answer.counting).toBe(4);
    expect(answerTo({ wish, texts, danceWeights: none }).kind).toBe("no notes");
  });

  test("of what is impossible can be taken over into the form, which then is possible", () => {
    const view: DesignView = { ...FIRST_DESIGN, mostSemitones: 1, mostChanged: 3, order: "draw higher" };
    const answer = answerTo({ wish: wishOfView(view, 440) });
    if (answer.kind !== "impossible") throw new Error(answer.kind);
    expect(answer.loosen.length).toBeGreaterThan(0);
    for (const { wish } of answer.loosen) {
      const loosened = loosenedView(view, wish);
      expect(wishOfView(loosened, 440).limits).toEqual(wish.limits);
      expect(answerTo({ wish: wishOfView(loosened, 440) }).kind).toBe("found");
    }
  });

  test("a text that is no tune is passed over", () => {
    const answer = answerTo({
      wish: wishOfView(FIRST_DESIGN, 440),
      texts: ["no tune at all", band],
    });
    expect(answer.kind === "found" ? answer.tunes : null).toBe(1);
  });
});

describe("the part of the workshop", () => {
  const actions = {
    isKept: () => false,
    onKeep: vi.fn(),
    onHear: vi.fn(),
    onPractise: vi.fn(),
    onFit: vi.fn(),
    onRetune: vi.fn(),
  };
  function shown(part: Partial<DesignPartProps> = {}) {
    const work: DesignPartProps["work"] = vi.fn(async (ask: DesignAsk) => answerTo(ask));
    const props: DesignPartProps = {
      view: FIRST_DESIGN,
      onView: vi.fn(),
      own: [],
      owned: [],
      a4Hz: 440,
      work,
      tunes: null,
      onTexts: async () => [],
      actions,
      ...part,
    };
    render(<DesignPart {...props} />);
    return props;
  }
  const look = () => fireEvent.click(screen.getByRole("button", { name: "Look for layouts" }));

  test("shows the layout found, its changes and what can be done with it", async () => {
    shown();
    look();
    await screen.findByText("7 reeds are changed: the fewest there can be.");
    const changes = screen.getByRole("table", { name: "Reeds changed" });
    // [calc] a heading and seven reeds.
    expect(changes.querySelectorAll("tr")).toHaveLength(8);
    fireEvent.click(screen.getByRole("button", { name: "Practise it" }));
    const [layout] = actions.onPractise.mock.lastCall ?? [];
    expect(reedsOf(layout)).toHaveLength(20);
  });

  test("asks for nothing that makes no sense", () => {
    const { work } = shown({ view: { ...FIRST_DESIGN, scales: [] } });
    look();
    expect(screen.getByRole("alert").textContent).toMatch(/Say what is to be playable/);
    expect(work).not.toHaveBeenCalled();
  });

  test("stopping ends the work, and trouble is told", async () => {
    let stopped = false;
    const never: DesignPartProps["work"] = (_, onProgress, signal) =>
      new Promise((_resolve, reject) => {
        onProgress({ share: 0.5, best: { changed: 3, notPlain: 12 } });
        signal.addEventListener("abort", () => {
          stopped = true;
          reject(new DOMException("stopped", "AbortError"));
        });
      });
    shown({ work: never });
    look();
    await screen.findByText(/so far 3 reeds leave 12 notes not plain/);
    fireEvent.click(screen.getByRole("button", { name: "Stop" }));
    await screen.findByText("Stopped.");
    expect(stopped).toBe(true);
    cleanup();
    shown({ work: () => Promise.reject(new Error("no worker here")) });
    look();
    await waitFor(() => expect(screen.getByRole("alert").textContent).toMatch(/no worker here/));
  });
});
