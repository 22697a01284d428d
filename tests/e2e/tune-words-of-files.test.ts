import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { gzipSync } from "node:zlib";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { run } from "../../electron/headless.ts";
import { archiveText, entryValue, everyKind, setListValue, tuneValue } from "../support/archives.ts";
import { chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { PATIENT } from "./tune-room.ts";

/** What would act if any of it were taken for more than words: elements, their handlers, a script, an end of what surrounds it. */
const WORDS = `"><img src=x onerror=letIn=1><script>letIn=1</script><svg onload=letIn=1>&lt;b&gt;'</style></title>`;
/** For names that have 80 characters at most. */
const NAME = `"><img src=x onerror=letIn=1><script>letIn=1</script>`;

const ABC = `X:1
T:${WORDS}
T:${WORDS}
C:${WORDS}
S:${WORDS}
N:${WORDS}
R:reel ${WORDS}
M:4/4
L:1/8
K:G
P:A
"${NAME.replaceAll('"', "")}"GABG "G"AGEG|D2G2 G4|
w:${WORDS}
|:GABG "^${NAME.replaceAll('"', "")}"AGEG|D2G2 G4:|
`;

const { open } = oneBrowserForAll();

/** The records of every kind with such words wherever a person may have written some. */
function hostileArchive(): Buffer {
  const records = everyKind().map((record) => {
    const value = record.value as Readonly<Record<string, unknown>>;
    if (record.kind === "layout")
      return { ...record, value: { layout: { ...(value.layout as object), name: NAME } } };
    if (record.kind === "harp") {
      const harp = value.harp as { readonly layout: object };
      return {
        ...record,
        value: { harp: { ...harp, layout: { ...harp.layout, id: "of-a-file", name: NAME } }, note: WORDS },
      };
    }
    if (record.kind === "tune")
      return {
        ...record,
        value: {
          ...tuneValue(),
          title: WORDS,
          otherTitles: [WORDS],
          key: WORDS,
          metre: WORDS,
          begins: WORDS,
          from: WORDS,
          abc: ABC,
        },
      };
    if (record.kind === "set list") return { ...record, value: hostileSetList() };
    if (record.kind === "attempt") return { ...record, value: hostileAttempt(value) };
    return record;
  });
  return gzipSync(archiveText(records));
}

function hostileSetList() {
  const list = setListValue();
  const sets = list.sets.map((set) => ({
    ...set,
    name: WORDS,
    tunes: set.tunes.map((tune) => ({ ...tune, title: WORDS })),
  }));
  return { ...list, name: WORDS, sets };
}

function hostileAttempt(before: Readonly<Record<string, unknown>>) {
  const entry = entryValue();
  const { exercise, attempt } = entry;
  const marks = attempt.marks.map((mark) => ({
    ...mark,
    tab: NAME,
    heardAs: [NAME],
    diagnosis: mark.diagnosis === null ? null : { ...mark.diagnosis, words: WORDS },
  }));
  return {
    ...before,
    exercise: { ...exercise, title: WORDS, trains: WORDS, caution: WORDS },
    attempt: {
      ...attempt,
      title: WORDS,
      marks,
      advice: attempt.advice.map((one) => ({ ...one, words: WORDS, drillWords: WORDS })),
    },
  };
}

/** What of the words became more than words: elements they name, handlers, or what these would have done. */
const letInto = (page: Page) =>
  page.evaluate(() => {
    const elements = [...document.querySelectorAll("*")];
    const handlers = elements.filter((one) => one.getAttributeNames().some((name) => /^on/i.test(name)));
    const strangers = elements.filter((one) =>
      one.matches('img[src="x"], main script, svg script, b, foreignObject'),
    );
    return [...handlers, ...strangers]
      .map((one) => one.outerHTML.slice(0, 200))
      .concat("letIn" in window ? ["it ran"] : []);
  });

/** How often the words can be read on the page, as they are. */
const timesRead = (page: Page) =>
  page.evaluate((words) => document.body.textContent.split(words).length - 1, "<img src=x onerror=letIn=1>");

async function openFolds(page: Page): Promise<void> {
  for (const fold of await page.locator("main details").all())
    if ((await fold.getAttribute("open")) === null) await fold.locator("summary").first().click();
}

async function saved(page: Page, button: string): Promise<string> {
  const download = page.waitForEvent("download", PATIENT);
  await page.getByRole("button", { name: button, exact: true }).first().click();
  return readFileSync(await (await download).path(), "utf8");
}

/** Writes ABC and a layout with such words, has the headless command make pages of them, and gives the pages. */
async function printedPages(): Promise<readonly string[]> {
  const folder = mkdtempSync(path.join(tmpdir(), "reedpath-words-"));
  const at = (name: string) => path.join(folder, name);
  writeFileSync(at("tune.abc"), ABC);
  const holes = Array.from({ length: 10 }, (_, hole) => ({ blow: 4 * hole - 4, draw: 4 * hole - 2 }));
  writeFileSync(
    at("layout.json"),
    JSON.stringify({ schema: "reedpath.layout", version: 1, name: NAME, holes }),
  );
  const quiet = { stdout: () => {}, stderr: (text: string) => expect(text).toBe("") };
  expect(await run(["sheet", at("tune.abc"), at("sheet.html")], quiet)).toBe(0);
  const retune = [
    "retune",
    "--from",
    at("layout.json"),
    "--from-key",
    "C",
    "--to",
    at("layout.json"),
    "--to-key",
    "D",
  ];
  expect(await run([...retune, "--unmeasured", "nominal", "--sheet", at("bench.html")], quiet)).toBe(0);
  return [readFileSync(at("sheet.html"), "utf8"), readFileSync(at("bench.html"), "utf8")];
}

describe.skipIf(chromiumPath === null)(`words of files${whyNoBrowser}`, () => {
  test("titles, names, notes and marks of an archive are words wherever they are shown, and in what is saved of them", async () => {
    const { page, complaints } = await open();
    const shown: Record<string, number> = {};
    const look = async (screen: string) => {
      expect(await letInto(page), screen).toEqual([]);
      shown[screen] = await timesRead(page);
    };
    await enterRoom(page, ROOM_KEYS.settings);
    const file = {
      name: `${NAME.replaceAll("/", " ")}.gz`,
      mimeType: "application/gzip",
      buffer: hostileArchive(),
    };
    await page.getByLabel("Archive file").setInputFiles(file);
    await page.getByRole("button", { name: "Bring in what is new" }).waitFor(PATIENT);
    await look("archive");
    await page.getByRole("button", { name: "Bring in what is new" }).click();
    await page.getByText(/^Brought in: /).waitFor(PATIENT);
    await look("archive brought in");
    await enterRoom(page, ROOM_KEYS.today);
    await page.getByRole("heading", { name: "Today", exact: true }).waitFor();
    await openFolds(page);
    await look("today");
    await enterRoom(page, ROOM_KEYS.progress);
    for (const part of ["Trends", "Weak spots", "Calendar", "Attempts"]) {
      await page.getByRole("button", { name: part, exact: true }).click();
      await openFolds(page);
      await look(`progress, ${part}`);
    }
    await page.locator(".history-rows tr[data-row] button").first().click();
    await page.locator(".staff svg").first().waitFor(PATIENT);
    await openFolds(page);
    await look("attempt");
    await enterRoom(page, ROOM_KEYS.instrument);
    await page.getByRole("button", { name: "My harps" }).click();
    await page.getByText("img src=x").first().waitFor(PATIENT);
    await look("my harps");
    await enterRoom(page, ROOM_KEYS.workshop);
    await page.getByRole("button", { name: "Retuning plan" }).click();
    await openFolds(page);
    await look("retuning");
    await enterRoom(page, ROOM_KEYS.tunes);
    await page.getByLabel(/Find/).fill("img src=x");
    await look("tunes");
    await page.locator(".tune-rows button.open").first().click();
    await page.locator(".tune-sheet .staff svg").first().waitFor(PATIENT);
    await openFolds(page);
    await look("tune");
    expect(await saved(page, "Save as ABC")).toContain("<img src=x onerror=letIn=1>");
    const score = await saved(page, "Save as MusicXML");
    expect(score).toContain("&lt;img src=x onerror=letIn=1&gt;");
    expect(score).not.toMatch(/<(img|script|svg)/);
    await page.getByRole("button", { name: "Tunes", exact: true }).first().click();
    await page.getByRole("button", { name: "Set lists" }).click();
    await page.getByText("img src=x").first().waitFor(PATIENT);
    await look("set lists");
    // Where there is nothing to be read nothing was looked at.
    const empty = ["today", "progress, Attempts", "attempt", "my harps", "tunes", "tune", "set lists"].filter(
      (screen) => !((shown[screen] ?? 0) > 0),
    );
    expect(empty).toEqual([]);
    // The content policy tells of everything it stops.
    expect(complaints).toEqual([]);
  });

  test("the pages of the headless command hold them as words, with nothing to stop them", async () => {
    const { page } = await open({ roomKey: null });
    for (const html of await printedPages()) {
      // No content policy here.
      await page.goto("about:blank");
      await page.setContent(html, { waitUntil: "load" });
      expect(await letInto(page)).toEqual([]);
      expect(await timesRead(page)).toBeGreaterThan(0);
    }
  });
});
