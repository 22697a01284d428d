import { cleanup, fireEvent, render, screen, waitFor } from "@testing-library/react";
import { afterEach, expect, test, vi } from "vitest";
import { hz, milliseconds, seconds } from "../../../core/units.ts";
import { SoundDevices } from "../../../renderer/audio/sound-devices.ts";
import { SoundCheckScreen } from "../../../renderer/sound-check/sound-check-screen.tsx";
import { PretendSoundCheck } from "./doubles.ts";

afterEach(cleanup);

const DESK = { id: "d", name: "Desk microphone", group: "a" };
const HEADSET = { id: "h", name: "Headset", group: "b" };
const SPEAKER = { id: "s", name: "Loudspeaker", group: "c" };

type Props = Parameters<typeof SoundCheckScreen>[0];

function show(world: PretendSoundCheck, changes: Partial<Props> = {}) {
  const told = { onInput: vi.fn(), onOutput: vi.fn(), onByHand: vi.fn() };
  render(
    <SoundCheckScreen
      session={world.session}
      devices={world.devices}
      measuredDelays={[]}
      byHandMs={0}
      outputLatencySeconds={() => 0.03}
      {...told}
      {...changes}
    />,
  );
  return told;
}

async function plugged() {
  const world = new PretendSoundCheck();
  await world.plug(
    { kind: "audioinput", device: DESK },
    { kind: "audioinput", device: HEADSET },
    { kind: "audiooutput", device: SPEAKER },
  );
  return world;
}

test("Space opens the microphone, then starts the phrase; Escape stops, then closes", async () => {
  const world = await plugged();
  show(world);
  expect(document.activeElement?.textContent).toMatch(/^Open the microphone/);
  fireEvent.keyDown(window, { key: " " });
  await screen.findByText("The microphone is open.");
  fireEvent.keyDown(window, { key: " " });
  await screen.findByText("Play the phrase now.");
  fireEvent.keyDown(window, { key: "Escape" });
  await screen.findByText("Not yet: one thing to do.");
  fireEvent.keyDown(window, { key: "Escape" });
  await screen.findByText("The microphone is closed.");
  world.session.dispose();
});

test("a button that measures becomes the one that stops it, and keeps the focus", async () => {
  const world = await plugged();
  let goOn = () => {};
  world.hold = new Promise((resolve) => {
    goOn = resolve;
  });
  show(world);
  const button = screen.getByRole("button", { name: "Measure by loudspeaker" });
  button.focus();
  fireEvent.click(button);
  await screen.findByText("Measuring: keep quiet.");
  expect(document.activeElement?.textContent).toBe("Stop measuring");
  fireEvent.click(screen.getByRole("button", { name: "Play along to 8 beats" }));
  expect(screen.getByText("Measuring: keep quiet.")).toBeDefined();
  fireEvent.click(screen.getByRole("button", { name: "Stop measuring" }));
  await screen.findByRole("button", { name: "Measure by loudspeaker" });
  goOn();
  world.session.dispose();
});

test("the device that is chosen is told with its name, the system's own as none", async () => {
  const world = await plugged();
  const { onInput, onOutput } = show(world);
  const microphone = screen.getByLabelText("Microphone");
  expect([...microphone.querySelectorAll("option")].map((one) => one.textContent)).toEqual([
    "the system's own (Desk microphone)",
    "Desk microphone",
    "Headset",
  ]);
  fireEvent.change(microphone, { target: { value: "h" } });
  expect(onInput).toHaveBeenCalledWith(HEADSET);
  fireEvent.change(screen.getByLabelText("Sound goes out by"), { target: { value: "s" } });
  expect(onOutput).toHaveBeenCalledWith(SPEAKER);
});

test("a chosen device that is away stays in the list, as away", async () => {
  const world = await plugged();
  await world.devices.choose({ input: HEADSET, output: null });
  await world.plug({ kind: "audioinput", device: DESK });
  show(world);
  const microphone = screen.getByLabelText<HTMLSelectElement>("Microphone");
  expect(microphone.selectedOptions[0]?.textContent).toBe("Headset, not there");
});

test("where the browser lets no loudspeaker be chosen, it says so plainly", () => {
  const devices = new SoundDevices({ list: async () => [], onChange: () => {}, sendTo: null });
  show(new PretendSoundCheck(), { devices });
  expect(screen.queryByLabelText("Sound goes out by")).toBeNull();
  expect(screen.getByText(/this browser lets no other be chosen/)).toBeDefined();
});

test("the delay that counts for the open pair is named, and another pair's does not count", async () => {
  const world = await plugged();
  const measured = {
    inputName: "Desk microphone",
    outputName: "Loudspeaker",
    sampleRateHz: hz(44_100),
    delayMs: milliseconds(43.2),
    spreadMs: milliseconds(0.1),
    way: "loudspeaker" as const,
    atEpochMs: 0,
  };
  show(world, { measuredDelays: [measured] });
  fireEvent.keyDown(window, { key: " " });
  await screen.findByText("43 ms, measured by loudspeaker, is taken off every note.");
  await world.plug(
    { kind: "audioinput", device: DESK },
    { kind: "audiooutput", device: { ...SPEAKER, id: "p", name: "Headphones" } },
  );
  await screen.findByText(/^Not measured for this microphone and loudspeaker/);
  world.session.dispose();
});

test("a phrase that is not good enough says why, one line a reason", async () => {
  vi.useFakeTimers({ shouldAdvanceTime: true });
  const world = await plugged();
  world.refused = ["noise suppression"];
  show(world);
  fireEvent.keyDown(window, { key: " " });
  await screen.findByText("The microphone is open.");
  fireEvent.keyDown(window, { key: " " });
  await vi.advanceTimersByTimeAsync(11_000);
  await waitFor(() => expect(screen.getByText("Not good enough yet:")).toBeDefined());
  expect(screen.getAllByRole("listitem").map((one) => one.textContent)).toEqual([
    "Nothing was heard. Is this the right microphone, and is it switched on?",
    "The system's noise suppression is on: pitch and time suffer.",
    "The delay is not measured: early and late cannot be told.",
  ]);
  vi.useRealTimers();
  world.session.dispose();
});

test("notes found uneven keep no delay, and say so beside the buttons", async () => {
  const world = await plugged();
  world.byPlayingAlong = { kind: "uneven", spreadSeconds: seconds(0.07) };
  show(world);
  fireEvent.click(screen.getByRole("button", { name: "Play along to 8 beats" }));
  await screen.findByText(/give or take 70 ms: too uneven to tell/);
  expect(world.kept).toEqual([]);
  world.session.dispose();
});
