import type { Browser } from "playwright-core";

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly dur?: number;
  readonly args?: { readonly name?: string };
}

/** The tasks of the window's own thread while something is done, in milliseconds, from Chromium's trace. */
export async function tasksWhile(browser: Browser, work: () => Promise<void>): Promise<readonly number[]> {
  const session = await browser.newBrowserCDPSession();
  const events: TraceEvent[] = [];
  session.on("Tracing.dataCollected", ({ value }) => events.push(...(value as unknown as TraceEvent[])));
  const complete = new Promise<void>((resolve) => session.on("Tracing.tracingComplete", () => resolve()));
  await session.send("Tracing.start", {
    transferMode: "ReportEvents",
    traceConfig: { includedCategories: ["toplevel", "disabled-by-default-devtools.timeline"] },
  });
  await work();
  await session.send("Tracing.end");
  await complete;
  await session.detach();
  const mains = new Set(
    events
      .filter(({ name, args }) => name === "thread_name" && args?.name === "CrRendererMain")
      .map(({ pid, tid }) => `${pid} ${tid}`),
  );
  return events
    .filter(({ name, ph, pid, tid }) => name === "RunTask" && ph === "X" && mains.has(`${pid} ${tid}`))
    .map(({ dur }) => (dur ?? 0) / 1000);
}
