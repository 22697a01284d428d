import type { Page } from "playwright-core";

/** A view, how a player gets there, and what shows that its content is on the screen. */
export interface View {
  readonly name: string;
  /** Where one comes from; what shows that one is there. */
  readonly before: (page: Page) => Promise<void>;
  readonly open: (page: Page) => Promise<void>;
  /** Of an element that is there with the content and not before. */
  readonly content: string;
}

const MOST_WAIT_MS = 120_000;

/** From the key or the click to the content painted, in milliseconds. */
export async function timeOf(page: Page, view: View): Promise<number> {
  await view.before(page);
  await page.waitForFunction((content) => document.querySelector(content) === null, view.content);
  await page.evaluate(watch, view.content);
  await view.open(page);
  const taken = await page.waitForFunction(() => globalThis.paintedAfterMs, null, { timeout: MOST_WAIT_MS });
  return (await taken.jsonValue()) ?? Number.NaN;
}

declare global {
  var paintedAfterMs: number | undefined;
}

/** In the page: counts from the player's doing, seen before anybody else sees it, to the picture after the content came. */
function watch(content: string): void {
  globalThis.paintedAfterMs = undefined;
  let began: number | null = null;
  const start = (event: Event) => {
    began ??= event.timeStamp;
  };
  for (const kind of ["keydown", "pointerdown"]) addEventListener(kind, start, { capture: true, once: true });
  const look = () => {
    if (began === null || document.querySelector(content) === null) return requestAnimationFrame(look);
    // The picture of this frame is on the screen when the next task comes.
    const from = began;
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      globalThis.paintedAfterMs = performance.now() - from;
    };
    port2.postMessage(null);
    return 0;
  };
  requestAnimationFrame(look);
}
