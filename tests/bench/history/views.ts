import type { Page } from "playwright-core";
import { enterRoom, ROOM_KEYS } from "../../e2e/browser.ts";
import type { View } from "./view-times.ts";

const PARTS_OF_PROGRESS = ["Trends", "Weak spots", "Calendar", "Attempts"];

/** A part of Progress, from the part before it. */
const progressPart = (name: string, content: string): View => ({
  name,
  content,
  before: async (page) => {
    await enterRoom(page, ROOM_KEYS.progress);
    const other = PARTS_OF_PROGRESS[name === "Calendar" ? 3 : 2] ?? "";
    await page.getByRole("button", { name: other, exact: true }).click();
  },
  open: (page) => page.getByRole("button", { name, exact: true }).click(),
});

const inSettings = (page: Page) => enterRoom(page, ROOM_KEYS.settings);

/** Everything that is made of the whole history. */
export const VIEWS: readonly View[] = [
  {
    name: "Today",
    content: ".plan-lines",
    before: inSettings,
    open: (page) => page.keyboard.press(ROOM_KEYS.today),
  },
  progressPart("Attempts", ".history-rows [data-row]"),
  progressPart("Calendar", "main.progress .frame table"),
  progressPart("Trends", ".measure-rows"),
  progressPart("Weak spots", "ol.spots"),
];
