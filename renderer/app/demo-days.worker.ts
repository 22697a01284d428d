import { type DemoAsk, madeUpDays } from "./demo-entries.ts";
import type { DemoReport } from "./demo-report.ts";

const report = (message: DemoReport) => self.postMessage(message);

self.onmessage = ({ data }: MessageEvent<DemoAsk>) => {
  try {
    for (const attempts of madeUpDays(data)) report({ kind: "day", attempts });
    report({ kind: "all" });
  } catch (error) {
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) });
  }
};
