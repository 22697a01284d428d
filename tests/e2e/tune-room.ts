import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Page } from "playwright-core";

/** As long as the page itself is waited for: a busy machine draws late. */
export const PATIENT = { timeout: 30_000 };

/** A file to be brought in. */
export function file(name: string, text: string): string {
  const at = path.join(mkdtempSync(path.join(tmpdir(), "reedpath-")), name);
  writeFileSync(at, text);
  return at;
}

export async function toTunes(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Tunes" }).click();
  await page.locator(".tune-rows button.open").first().waitFor();
}
