import { designAnswer } from "./design-answers.ts";
import type { DesignAsk, DesignReport } from "./design-messages.ts";

const report = (message: DesignReport) => self.postMessage(message);
/** Progress is told this often at most, as a share of the whole. */
const STEP = 0.005;

self.onmessage = ({ data }: MessageEvent<DesignAsk>) => {
  try {
    const work = designAnswer(data);
    let told = -1;
    for (let step = work.next(); ; step = work.next()) {
      if (step.done === true) return report({ kind: "answer", answer: step.value });
      if (step.value.share < told + STEP) continue;
      told = step.value.share;
      report(step.value);
    }
  } catch (error) {
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) });
  }
};
