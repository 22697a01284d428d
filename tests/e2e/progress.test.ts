import { describe, expect, test } from "vitest";
import { thirtyDays } from "../support/thirty-days.ts";
import { axeViolations, chromiumPath, enterRoom, ROOM_KEYS, whyNoBrowser } from "./browser.ts";
import { oneBrowserForAll } from "./hooks.ts";
import { keepEntries } from "./kept.ts";

const { open } = oneBrowserForAll();
const PATIENT = { timeout: 30_000 };

describe.skipIf(chromiumPath === null)(`the progress of thirty days${whyNoBrowser}`, () => {
  test.each(["light", "dark"] as const)(
    "has its minutes and finds its attempts; axe finds nothing, %s",
    async (colorScheme) => {
      const { page, complaints } = await open({ colorScheme });
      await keepEntries(page, thirtyDays(5));
      await enterRoom(page, ROOM_KEYS.progress);
      await page.getByRole("button", { name: "Calendar" }).click();
      await page.getByText("52 min on 26 days").first().waitFor(PATIENT);
      expect(await page.getByText("2 min", { exact: true }).count()).toBe(26); // [calc] two takes of a minute a day
      expect(await axeViolations(page), "calendar").toEqual([]);
      await page.getByRole("button", { name: "Attempts" }).click();
      await page.getByText("52 attempts").waitFor(PATIENT); // [calc] two a day
      await page.getByLabel("To", { exact: true }).fill("2026-09-01");
      await page.getByText("2 attempts", { exact: true }).waitFor(PATIENT);
      expect(await axeViolations(page), "attempts").toEqual([]);
      expect(complaints).toEqual([]);
    },
  );
});
