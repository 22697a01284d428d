import { gzipSync } from "node:zlib";
import type { Page } from "playwright-core";
import { archiveText, everyKind } from "../support/archives.ts";
import { exerciseOf } from "../support/drills.ts";
import { enterRoom, ROOM_KEYS } from "./browser.ts";
import { measuring } from "./measure-screens.ts";
import { microphoneTake } from "./takes.ts";

/** Told of each screen as it stands there. */
export type Visit = (screen: string) => Promise<void>;

/** Goes to every screen of the program, beginning with the drills a new player finds, empty and full. */
export async function walkScreens(page: Page, visit: Visit): Promise<void> {
  await madeUpDays(page, visit);
  await practice(page, visit);
  await around(page, visit);
  await tunes(page, visit);
  await instrument(page, visit);
  await drills(page, visit);
  await design(page, visit);
  await retuning(page, visit);
  await measuring(page, visit);
}

const PARTS_OF_PROGRESS = ["Trends", "Weak spots", "Calendar", "Attempts"] as const;

/** What a new player sees of Today and Progress, empty and with thirty made-up days, which are gone again at the end. */
async function madeUpDays(page: Page, visit: Visit): Promise<void> {
  await enterRoom(page, ROOM_KEYS.today);
  await page.getByRole("button", { name: "See it with made-up days" }).waitFor();
  await visit("today-new");
  await enterRoom(page, ROOM_KEYS.progress);
  await page.getByRole("button", { name: "See it with made-up days" }).waitFor();
  await visit("progress-new");
  await page.getByRole("button", { name: "See it with made-up days" }).click();
  await page.getByText("Made-up days of a demonstration").waitFor({ timeout: 60_000 });
  for (const part of PARTS_OF_PROGRESS) {
    await page.getByRole("button", { name: part, exact: true }).click();
    const shown = part === "Attempts" ? page.locator(".history-rows tr[data-row]") : page.getByRole("img");
    await shown.first().waitFor();
    await visit(`progress-${part.toLowerCase().replace(" ", "-")}`);
    for (const fold of await page.locator(".progress details").all())
      if ((await fold.getAttribute("open")) === null) await fold.locator("summary").first().click();
    if (part !== "Attempts") await visit(`progress-${part.toLowerCase().replace(" ", "-")}-all-open`);
  }
  await enterRoom(page, ROOM_KEYS.today);
  await page.locator(".plan").first().waitFor();
  await page.getByText("To revisit").first().waitFor();
  await visit("today-with-made-up-days");
  await planRun(page, visit);
  await page.getByRole("button", { name: "Remove them" }).click();
  await page.getByRole("button", { name: "See it with made-up days" }).waitFor({ timeout: 60_000 });
}

/** The plan of the day on the sheet, in a line and at its end; it is left as it was. */
async function planRun(page: Page, visit: Visit): Promise<void> {
  await page.getByText(/^When to revisit/).click();
  await visit("today-when-to-revisit");
  await page.getByText(/^When to revisit/).click();
  await page.getByRole("button", { name: "Start the plan" }).click();
  await page.locator(".plan-strip").waitFor();
  await page.locator(".staff svg").first().waitFor();
  await visit("plan-line");
  const over = page.getByRole("heading", { name: "The plan is at its end" });
  const skip = page.locator(".plan-strip").getByRole("button", { name: /^Skip/ });
  for (let line = 0; line < 60 && (await over.count()) === 0; line++) {
    // A take that has begun by itself meanwhile is stopped first.
    await page.keyboard.press((await skip.isDisabled()) ? "Escape" : "k");
    await page.locator(".plan-strip, .plan-done").waitFor();
  }
  await over.waitFor();
  await visit("plan-over");
  await page.getByRole("button", { name: "Back to Today" }).click();
  await page.getByRole("button", { name: "Plan more" }).click();
  await page.getByRole("button", { name: "Start the plan" }).waitFor();
}

async function practice(page: Page, visit: Visit): Promise<void> {
  await enterRoom(page, ROOM_KEYS.drills);
  await page.locator(".staff svg").first().waitFor();
  await visit("drills");
  await page.getByRole("button", { name: "Practise this" }).click();
  await page.locator(".staff svg").first().waitFor();
  await visit("practice-before");
  const take = microphoneTake(exerciseOf(), 71, true);
  await page.getByLabel("Recording to mark").setInputFiles(take.wavPath);
  await page.getByText("Kept in the history.").waitFor();
  await visit("practice-after");
  for (const fold of await page.locator(".practice details").all())
    if ((await fold.getAttribute("open")) === null) await fold.locator("summary").first().click();
  await visit("practice-after-all-open");
}

async function around(page: Page, visit: Visit): Promise<void> {
  await enterRoom(page, ROOM_KEYS.progress);
  await page.getByRole("button", { name: exerciseOf().title, exact: true }).waitFor();
  await visit("progress-one-attempt");
  await enterRoom(page, ROOM_KEYS.today);
  await page.getByRole("button", { name: /^Go on/ }).waitFor();
  await visit("today");
  await enterRoom(page, ROOM_KEYS.soundCheck);
  await page.getByText("Set it by hand").click();
  await visit("sound-check");
  await page.keyboard.press("?");
  await page.getByRole("dialog").waitFor();
  await visit("help");
  await about(page, visit);
  await enterRoom(page, ROOM_KEYS.settings);
  await page.getByRole("heading").first().waitFor();
  await visit("settings");
  await archive(page, visit);
}

/** What the program is, with all its folds open. */
async function about(page: Page, visit: Visit): Promise<void> {
  await page.getByRole("button", { name: "About Reedpath" }).click();
  await page.getByRole("heading", { name: "Packages of other people" }).waitFor();
  for (const fold of await page.locator(".about details").all()) await fold.locator("summary").click();
  await page.getByRole("region", { name: "The words of their licences" }).waitFor();
  await visit("about");
  await page.keyboard.press("Escape");
}

/** A file that was looked through, one that is none, and the question before everything is deleted. */
async function archive(page: Page, visit: Visit): Promise<void> {
  const choose = (name: string, buffer: Buffer) =>
    page.getByLabel("Archive file").setInputFiles({ name, mimeType: "application/gzip", buffer });
  await choose("words.gz", Buffer.from("words"));
  await page.getByText(/Nothing was changed/).waitFor();
  await visit("archive-refused");
  await choose("of the other computer.gz", gzipSync(archiveText(everyKind())));
  await page.getByRole("button", { name: "Bring in what is new" }).waitFor();
  await page.getByRole("button", { name: "Delete everything …" }).click();
  await visit("archive-looked-at");
  await page.getByRole("button", { name: "Leave it" }).click();
}

async function tunes(page: Page, visit: Visit): Promise<void> {
  await enterRoom(page, ROOM_KEYS.tunes);
  await page.locator(".tune-rows button.open").first().waitFor();
  await page.getByText(/Which harps play these/).click();
  await page.locator(".tune-rows tr[data-row]").first().getByText(/ harp/).waitFor();
  await visit("tunes");
  await page.getByRole("button", { name: "Write or paste one" }).click();
  await page.locator(".faults").waitFor();
  await visit("write-a-tune");
  await page.getByRole("button", { name: "Tunes" }).click();
  await page.getByLabel(/Find/).fill("chairs against");
  await page.getByRole("button", { name: "Chairs Against the Wall" }).click();
  await page.locator(".tune-sheet .staff svg").first().waitFor();
  await visit("tune");
  for (const fold of await page.locator(".tune details").all())
    if ((await fold.getAttribute("open")) === null) await fold.locator("summary").click();
  await visit("tune-all-open");
  await setLists(page, visit);
}

async function setLists(page: Page, visit: Visit): Promise<void> {
  await page.getByRole("button", { name: "Tunes" }).click();
  await page.getByRole("button", { name: "Set lists" }).click();
  await page.getByText("No set list yet.", { exact: false }).waitFor();
  await visit("set-lists");
  await page.getByRole("button", { name: "Show a made-up one" }).click();
  await page.getByRole("progressbar").waitFor({ state: "detached" });
  await page.locator(".set-tune-line > button").nth(1).click();
  await visit("set-list");
}

async function instrument(page: Page, visit: Visit): Promise<void> {
  await enterRoom(page, ROOM_KEYS.instrument);
  await visit("instrument");
  await page.getByRole("button", { name: "My harps" }).click();
  await visit("my-harps");
}

async function drills(page: Page, visit: Visit): Promise<void> {
  await enterRoom(page, ROOM_KEYS.drills);
  await page.getByLabel("bends and overblows").check();
  await page.getByLabel("Mode").selectOption("degrees");
  await page.getByLabel("bends, overblows").check();
  for (const fold of await page.locator(".drills details").all())
    if ((await fold.getAttribute("open")) === null) await fold.locator("summary").click();
  await page.locator(".staff svg").first().waitFor();
  await visit("drills-all-open");
}

/** Layouts found for a scale with all folds open, then what must give way where there is none. */
async function design(page: Page, visit: Visit): Promise<void> {
  await enterRoom(page, ROOM_KEYS.workshop);
  await visit("design-first");
  await page.getByRole("button", { name: "Look for layouts" }).click();
  await page.getByRole("heading", { name: "Layouts found" }).waitFor();
  for (const fold of await page.locator(".workshop details").all())
    if ((await fold.getAttribute("open")) === null) await fold.locator("summary").first().click();
  await visit("design-found");
  await page.getByLabel("A reed moves at most").selectOption("1");
  await page.getByRole("button", { name: "Look for layouts" }).click();
  await page.getByText("No layout keeps all of this.").waitFor();
  await visit("design-not-possible");
}

/** The plan for a harp of one's own with all its folds, one that cannot be, and the work under way. */
async function retuning(page: Page, visit: Visit): Promise<void> {
  await enterRoom(page, ROOM_KEYS.instrument);
  await page.getByRole("button", { name: "My harps" }).click();
  await page.getByRole("button", { name: "Add a harp" }).click();
  await page.getByRole("button", { name: "Keep this harp" }).click();
  await enterRoom(page, ROOM_KEYS.workshop);
  await page.getByRole("button", { name: "Retuning plan" }).click();
  await page.locator(".plan-harp").waitFor();
  await visit("retuning-plan");
  await page.getByLabel("Of my harps").selectOption({ index: 0 });
  await page.getByLabel("Layout").selectOption("solo-12");
  await page.getByText("It cannot be done").waitFor();
  await visit("retuning-not-possible");
  await page.getByLabel("Layout").selectOption("harmonic-minor");
  await page.getByText("Which harp should I buy").click();
  await page.getByLabel("every layout there is").check();
  await page.getByLabel("D", { exact: true }).check();
  for (const fold of await page.locator(".workshop details").all())
    if ((await fold.getAttribute("open")) === null) await fold.locator("summary").first().click();
  await visit("retuning-all-open");
  await page.getByRole("button", { name: "Begin this work" }).click();
  await page.getByRole("button", { name: "Pass 1 is done" }).click();
  await page.getByText("the harp rests until").waitFor();
  await visit("retuning-under-way");
}
