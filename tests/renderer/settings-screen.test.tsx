import { cleanup, fireEvent, render, screen, within } from "@testing-library/react";
import { useEffect, useState } from "react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { SettingsScreen } from "../../renderer/settings/settings-screen.tsx";
import { FIRST_SETTINGS, type Settings } from "../../renderer/store/settings-store.ts";
import { readKeys, USUAL_KEYS } from "../../renderer/ui/keys.ts";
import { NOTHING_KEPT } from "./keeping-double.ts";

afterEach(cleanup);

interface KeptProps {
  readonly first: Settings;
  readonly onSettings: (settings: Settings) => void;
}

/** The screen with settings that change as they do in the window. */
function Kept({ first, onSettings }: KeptProps) {
  const [settings, setSettings] = useState(first);
  useEffect(() => onSettings(settings), [settings, onSettings]);
  return (
    <SettingsScreen
      settings={settings}
      onChange={(part) => setSettings((before) => ({ ...before, ...part }))}
      onHearBeat={async () => {}}
      keeping={NOTHING_KEPT}
    />
  );
}

/** The screen as it is shown, and the latest settings. */
function shown(changes: Partial<Settings> = {}): { readonly latest: () => Settings } {
  const onSettings = vi.fn<(settings: Settings) => void>();
  render(<Kept first={{ ...FIRST_SETTINGS, ...changes }} onSettings={onSettings} />);
  return {
    latest: () => {
      const [settings] = onSettings.mock.lastCall ?? [];
      if (settings === undefined) throw new Error("the screen was shown");
      return settings;
    },
  };
}

const group = (name: string) => within(screen.getByRole("region", { name }));
const button = (name: RegExp | string) => screen.getByRole("button", { name });
/** Presses a key as the window hears it, before anything on the page does. */
const press = (key: string) => fireEvent.keyDown(document.activeElement ?? document.body, { key });

describe("the settings screen", () => {
  test("changes at once, and takes back change after change", () => {
    const { latest } = shown();
    fireEvent.click(group("Look").getByLabelText("dark"));
    fireEvent.click(group("Notes, tab and harp").getByLabelText("4↑ and 4↓"));
    expect(latest()).toEqual({ ...FIRST_SETTINGS, look: "dark", tabForm: "arrows" });
    expect(screen.getByText("Changed: Tab")).toBeTruthy();
    fireEvent.click(button("Undo"));
    expect(latest()).toEqual({ ...FIRST_SETTINGS, look: "dark" });
    fireEvent.click(button("Undo"));
    expect(latest()).toEqual(FIRST_SETTINGS);
    expect(button("Undo").hasAttribute("disabled")).toBe(true);
  });

  test("a number typed digit by digit is one change to take back", () => {
    const { latest } = shown({ a4Hz: 440 });
    const field = group("Sound").getByLabelText(/The harp's A/);
    for (const value of ["44", "441", "441.5"]) fireEvent.change(field, { target: { value } });
    expect(latest().a4Hz).toBe(441.5);
    fireEvent.click(button("Undo"));
    expect(latest().a4Hz).toBe(440);
  });

  test("a group goes back to how it was at first, alone, and that too can be taken back", () => {
    const { latest } = shown({ beatSound: "wood", loudnessDb: -30, look: "light" });
    fireEvent.click(button(/As it was at first.*Sound/));
    expect(latest()).toEqual({ ...FIRST_SETTINGS, look: "light" });
    expect(button(/As it was at first.*Sound/).hasAttribute("disabled")).toBe(true);
    fireEvent.click(button("Undo"));
    expect(latest()).toMatchObject({ beatSound: "wood", loudnessDb: -30 });
  });

  test("a key is changed by pressing it, and says from what it was taken", () => {
    const { latest } = shown();
    const played = vi.fn();
    window.addEventListener("keydown", played);
    fireEvent.click(button("Add a key for Hear your take"));
    expect(screen.getByText(/Press the key or pedal for "Hear your take"/)).toBeTruthy();
    press("H");
    window.removeEventListener("keydown", played);
    // While a key is waited for it does nothing else.
    expect(played).not.toHaveBeenCalled();
    const words = 'H now does "Hear your take", and no longer "Hear it as it should sound".';
    expect(screen.getByText(`Changed: ${words}`)).toBeTruthy();
    expect(readKeys(latest().keys)).toMatchObject({ "hear the take": ["t", "h"], hear: ["PageUp"] });
    fireEvent.click(button("Undo"));
    expect(readKeys(latest().keys)).toEqual(USUAL_KEYS);
  });

  test("Escape leaves a key as it was, and a key that buttons need is refused", () => {
    const { latest } = shown();
    fireEvent.click(button("Add a key for Faster"));
    press("Enter");
    expect(screen.getByText(/Enter cannot be given away/)).toBeTruthy();
    press("Escape");
    expect(latest().keys).toBeNull();
    expect(button("Add a key for Faster").getAttribute("aria-pressed")).toBe("false");
  });

  test("a key is taken away, and all come back at once", () => {
    const { latest } = shown();
    fireEvent.click(button(/Take away from Start, stop, again.*Space/));
    expect(readKeys(latest().keys).start).toEqual(["PageDown"]);
    fireEvent.click(button(/As it was at first.*Keys/));
    expect(latest().keys).toBeNull();
  });

  test("a beat that cannot be heard says why and what to do", async () => {
    const silent = async () => {
      throw new Error("no loudspeaker");
    };
    render(
      <SettingsScreen
        settings={FIRST_SETTINGS}
        onChange={() => {}}
        onHearBeat={silent}
        keeping={NOTHING_KEPT}
      />,
    );
    fireEvent.click(button("Hear the beat"));
    expect((await screen.findByRole("alert")).textContent).toMatch(/no loudspeaker\. See the sound check/);
  });
});
