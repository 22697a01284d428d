import { gzipSync } from "node:zlib";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { archiveText, everyKind } from "../support/archives.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";

const { open } = oneBrowserForAll();

const reel = (title: string) => `X:1\nT:${title}\nR:reel\nM:C|\nL:1/8\nK:D\nDEFG A2A2|d2d2 d4|]\n`;
const archive = gzipSync(archiveText(everyKind()));

interface Dropped {
  readonly name: string;
  readonly content: string | Buffer;
}

/** Drops files onto the way between rooms, where nothing takes them by itself; tells whether the browser was kept from leading away. */
const drop = (page: Page, ...files: readonly Dropped[]) =>
  page.evaluate(
    (given) => {
      const dataTransfer = new DataTransfer();
      for (const { name, base64 } of given)
        dataTransfer.items.add(new File([Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0))], name));
      const at = document.querySelector("nav") ?? document.body;
      const event = (type: string) => new DragEvent(type, { dataTransfer, bubbles: true, cancelable: true });
      return [at.dispatchEvent(event("dragover")), at.dispatchEvent(event("drop"))];
    },
    files.map(({ name, content }) => ({ name, base64: Buffer.from(content).toString("base64") })),
  );

/** Only rows in sight stand in the page. */
async function findTune(page: Page, title: string): Promise<void> {
  await page.getByLabel(/Find/).fill(title);
  await page.getByRole("button", { name: title, exact: true }).waitFor();
}

const room = (page: Page) => page.locator('nav [aria-current="page"]').textContent();

/** A shell that was given files, as the preload script would put it on the page. */
const withShell = (files: readonly Dropped[]) => async (page: Page) => {
  await page.addInitScript(
    (given) => {
      const bytes = given.map(({ base64 }) => Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0)));
      let waiting = given.map(({ name, kind }, n) =>
        name === ""
          ? { kind: "refused", reason: "take.wav was not opened: it is not ours." }
          : { kind: "file", id: n, name, holds: kind, sizeBytes: bytes[n]?.length ?? 0 },
      );
      const listeners = new Set<(what: string) => void>();
      Object.assign(window, {
        askOfPage: (what: string) => {
          for (const listener of listeners) listener(what);
        },
        reedpath: {
          openedFiles: async () => {
            const all = waiting;
            waiting = [];
            return all;
          },
          readOpenedFile: async (id: number, from: number) => ({
            kind: "read",
            bytes: bytes[id]?.slice(from, from + 700) ?? new Uint8Array(),
          }),
          onAsked: (listener: (what: string) => void) => {
            listeners.add(listener);
            return () => listeners.delete(listener);
          },
          backups: async () => ({ kind: "backups", backups: [] }),
          keepAwake: async () => {},
        },
      });
    },
    files.map(({ name, content }) => ({
      name,
      kind: name.endsWith(".abc") ? "tunes" : "archive",
      base64: Buffer.from(content).toString("base64"),
    })),
  );
};

describe.skipIf(chromiumPath === null)(`files given from outside${whyNoBrowser}`, () => {
  test("tunes dropped anywhere are brought in one after the other, in their room", async () => {
    const { page, complaints } = await open({ roomKey: ROOM_KEYS.today });
    const stays = await drop(
      page,
      { name: "a.abc", content: reel("Village Reel") },
      { name: "b.abc", content: reel("Autumn Reel") },
    );
    // An event that is not prevented leads the browser to the file, and away from the program.
    expect(stays).toEqual([false, false]);
    await findTune(page, "Autumn Reel");
    await findTune(page, "Village Reel");
    expect(await room(page)).toContain("Tunes");
    expect(complaints).toEqual([]);
  });

  test("an archive dropped anywhere is looked through in the settings, and nothing is brought in unasked", async () => {
    const { page } = await open({ roomKey: ROOM_KEYS.progress });
    await drop(page, { name: "mine.reedpath", content: archive });
    await page.getByText(/mine\.reedpath was looked through/).waitFor();
    expect(await room(page)).toContain("Settings");
    await page.getByRole("button", { name: "Bring in what is new" }).waitFor();
    await expect
      .poll(() => page.locator(".archive-part").evaluate((part) => part.getBoundingClientRect().top))
      .toBeLessThan(700);
  });

  test("anything else is refused in a sentence, and the room stays", async () => {
    const { page } = await open({ roomKey: ROOM_KEYS.instrument });
    await drop(page, { name: "<b>take</b>.wav", content: "RIFF" }, { name: "x.mid", content: "no MIDI" });
    await page
      .getByText("<b>take</b>.wav was not opened: it is not tunes (ABC, MusicXML, MIDI) or an archive.")
      .waitFor();
    await page
      .getByText(/^x\.mid/)
      .first()
      .waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await page.getByRole("button", { name: "Close" }).click();
    expect(await page.getByText("was not opened").count()).toBe(0);
  });

  test("on the sheet it waits, until the player says so or leaves", async () => {
    const { page } = await open();
    await page.getByRole("button", { name: "Practise this" }).click();
    await page.locator(".staff svg").first().waitFor();
    await drop(page, { name: "a.abc", content: reel("Village Reel") });
    await page.getByText("a.abc waits until this sheet is left.").waitFor();
    expect(await axeViolations(page)).toEqual([]);
    await page.getByRole("button", { name: "Do not open" }).click();
    await drop(page, { name: "b.abc", content: reel("Autumn Reel") });
    await page.getByRole("button", { name: "Open now" }).click();
    await findTune(page, "Autumn Reel");
    await page.getByLabel(/Find/).fill("Village Reel");
    await page.getByRole("button", { name: "Autumn Reel", exact: true }).waitFor({ state: "detached" });
    expect(await page.getByRole("button", { name: "Village Reel", exact: true }).count()).toBe(0);
  });

  test("what the shell was given before the window began is opened, and each that was refused is told", async () => {
    const files = [
      { name: "", content: "" },
      { name: "a.abc", content: reel("Village Reel") },
      { name: "mine.reedpath", content: archive },
    ];
    const { page, complaints } = await open({ roomKey: null, before: withShell(files) });
    await page.getByText("take.wav was not opened: it is not ours.").waitFor();
    await page.getByText(/mine\.reedpath was looked through/).waitFor();
    await enterRoom(page, ROOM_KEYS.tunes);
    await findTune(page, "Village Reel");
    expect(complaints).toEqual([]);
  });

  test("the shell's menu shows what the program is, with the licence of every package in it", async () => {
    const { page } = await open({ before: withShell([]) });
    await page.evaluate(() => (window as unknown as { askOfPage(what: string): void }).askOfPage("about"));
    await page.getByRole("heading", { name: /^Reedpath \d+\.\d+\.\d+$/ }).waitFor();
    await page.getByRole("row", { name: /^electron / }).waitFor();
    await page.getByText("The words of their licences").focus();
    await page.keyboard.press("Enter");
    const texts = page.getByRole("region", { name: "The words of their licences" });
    await expect.poll(() => texts.textContent()).toMatch(/## saxes \d.*\n\n.*ISC/s);
    expect(await axeViolations(page)).toEqual([]);
    await page.keyboard.press("Escape");
    expect(await page.getByRole("heading", { name: "Packages of other people" }).count()).toBe(0);
  });
});
