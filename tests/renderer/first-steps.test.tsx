import { cleanup, fireEvent, render, screen } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import type { LiveReading, MicrophoneSession, OpenedMicrophone } from "../../renderer/audio/microphone.ts";
import { type StepStates, stepNow } from "../../renderer/today/first-step-states.ts";
import { FirstSteps, type FirstStepsProps } from "../../renderer/today/first-steps.tsx";

afterEach(cleanup);

const noMicrophone = async (): Promise<OpenedMicrophone> => ({
  kind: "problem",
  problem: { cause: "none", words: "No microphone was found. Plug one in and start again." },
});

function props(changes: Partial<FirstStepsProps> = {}): FirstStepsProps {
  return {
    steps: {},
    onSteps: () => {},
    ownLayouts: [],
    onHarp: () => {},
    openMicrophone: noMicrophone,
    drillTitle: "G major scale",
    onDrill: () => {},
    onDemonstration: () => {},
    ...changes,
  };
}

/** A microphone that hears what it is told to. */
function microphone() {
  let tell: (reading: LiveReading) => void = () => {};
  const close = vi.fn();
  const session: MicrophoneSession = {
    sampleRateHz: 48_000,
    deviceName: "a microphone",
    insteadOf: null,
    refused: [],
    onReading: (listener) => {
      tell = listener;
      return () => {};
    },
    onEnded: () => {},
    followNotes: () => () => {},
    startTake: async () => {},
    stopTake: () => Promise.reject(new Error("no take was begun")),
    cancelTake: () => {},
    close,
  };
  const hear = (part: Partial<LiveReading>) =>
    tell({
      atSeconds: 0,
      pitchMidi: null,
      levelDbfs: -20,
      secondReedDb: null,
      clipped: false,
      silent: false,
      ...part,
    });
  return { open: async (): Promise<OpenedMicrophone> => ({ kind: "open", session }), hear, close };
}

describe("the first steps", () => {
  test("come one after the other, whatever became of those before", () => {
    const states: readonly (readonly [StepStates, string | null])[] = [
      [{}, "harp"],
      [{ harp: "skipped" }, "microphone"],
      [{ harp: "done", microphone: "skipped" }, "drill"],
      [{ microphone: "done" }, "harp"],
      [{ harp: "done", microphone: "done", drill: "skipped" }, null],
    ];
    for (const [steps, now] of states) expect(stepNow(steps)).toBe(now);
  });

  test("a harp is chosen, or the step is skipped, or all are", () => {
    const onHarp = vi.fn();
    const onSteps = vi.fn();
    render(<FirstSteps {...props({ onHarp, onSteps })} />);
    // Enter goes on at once.
    expect(document.activeElement).toBe(screen.getByRole("button", { name: "This is my harp" }));
    fireEvent.change(screen.getByLabelText("Key"), { target: { value: "D" } });
    fireEvent.click(screen.getByRole("button", { name: "This is my harp" }));
    expect(onHarp.mock.lastCall?.[0]).toMatchObject({ key: "D", layout: { id: "standard" } });
    expect(onSteps).toHaveBeenLastCalledWith({ harp: "done" });
    fireEvent.click(screen.getByRole("button", { name: /^Skip ?: My harp/ }));
    expect(onSteps).toHaveBeenLastCalledWith({ harp: "skipped" });
    fireEvent.click(screen.getByRole("button", { name: "Skip all of them" }));
    expect(onSteps).toHaveBeenLastCalledWith({ harp: "skipped", microphone: "skipped", drill: "skipped" });
  });

  test("a microphone that is missing says what to do, and can be tried again", async () => {
    render(<FirstSteps {...props({ steps: { harp: "done" } })} />);
    fireEvent.click(screen.getByRole("button", { name: "Try the microphone" }));
    expect((await screen.findByRole("alert")).textContent).toMatch(/Plug one in/);
    expect(screen.getByRole("button", { name: "Try again" })).toBeTruthy();
  });

  test("a microphone on trial says what it hears, and is closed when the step is left", async () => {
    const { open, hear, close } = microphone();
    const onSteps = vi.fn();
    const { unmount } = render(
      <FirstSteps {...props({ steps: { harp: "done" }, openMicrophone: open, onSteps })} />,
    );
    fireEvent.click(screen.getByRole("button", { name: "Try the microphone" }));
    const words = await screen.findByText(/Play any note/);
    const says = async (part: Partial<LiveReading>, pattern: RegExp) => {
      hear(part);
      expect(await screen.findByText(pattern)).toBe(words);
    };
    await says({ silent: true }, /No sound at all/);
    await says({ pitchMidi: 67, levelDbfs: -55 }, /Too quiet/);
    await says({ pitchMidi: 67, clipped: true }, /Too loud/);
    await says({ pitchMidi: 66.9 }, /G4 is heard/); // [calc] MIDI 67 is G4
    fireEvent.click(screen.getByRole("button", { name: "It hears me" }));
    expect(onSteps).toHaveBeenCalledWith({ harp: "done", microphone: "done" });
    unmount();
    expect(close).toHaveBeenCalledOnce();
  });

  test("a demonstration leaves the drill still to be done", () => {
    const onSteps = vi.fn();
    const onDemonstration = vi.fn();
    const steps = { harp: "done", microphone: "skipped" } as const;
    render(<FirstSteps {...props({ steps, onSteps, onDemonstration })} />);
    fireEvent.click(screen.getByRole("button", { name: /see a simulated player/ }));
    expect(onDemonstration).toHaveBeenCalledOnce();
    expect(onSteps).not.toHaveBeenCalled();
    fireEvent.click(screen.getByRole("button", { name: "Open the drill" }));
    expect(onSteps).toHaveBeenCalledWith({ ...steps, drill: "done" });
  });
});
