import { planTune } from "../../core/exercise/tune-plan.ts";
import { Fitter } from "../../core/path/fit.ts";
import { harpsToOwn } from "../../core/path/harps-to-own.ts";
import { glanceAt } from "./glance.ts";
import { importTunes } from "./import-tunes.ts";
import { laidOf } from "./lay-ask.ts";
import { midiPreview } from "./midi-preview.ts";
import { readText } from "./read-text.ts";
import { scorePreview } from "./score-preview.ts";
import { stepsOf } from "./steps-ask.ts";
import type { OwnWish, TuneJob, TuneReport } from "./tune-messages.ts";

/** Harps told of a tune. */
const BEST = 8;

const report = (message: TuneReport) => self.postMessage(message);

self.onmessage = (event: MessageEvent<TuneJob>) => {
  try {
    obey(event.data);
  } catch (error) {
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) });
  }
};

function obey(job: TuneJob): void {
  switch (job.kind) {
    case "read":
      report({ kind: "read", read: readText(job.text, job.voice) });
      return;
    case "plan":
      report({ kind: "planned", plan: planTune(job.setting) });
      return;
    case "fits": {
      const { tune, harps, abilities } = job;
      report({ kind: "fitted", fits: new Fitter(harps, { abilities, best: BEST }).best(tune) });
      return;
    }
    case "own":
      report(harpsFor(job.wish));
      return;
    case "import":
      for (const some of importTunes(job.name, job.bytes, job.choices)) report(some);
      report({ kind: "all" });
      return;
    case "glance":
      for (const ask of job.asks) report({ kind: "glanced", id: ask.id, glance: glanceAt(ask, job.world) });
      report({ kind: "all" });
      return;
    case "steps":
      for (const ask of job.asks) report({ kind: "stepped", id: ask.id, steps: stepsOf(ask, job.world) });
      report({ kind: "all" });
      return;
    case "lay":
      for (const ask of job.asks) report({ kind: "laid", key: ask.key, laid: laidOf(ask, job.world) });
      report({ kind: "all" });
      return;
    case "midi":
      report({ kind: "midi", read: midiPreview(job.bytes, job.choices) });
      return;
    case "score":
      report({ kind: "score", read: scorePreview(job.bytes, job.choices) });
      return;
  }
}

function harpsFor({ texts, harps, owned, abilities, mostBent }: OwnWish): TuneReport {
  const tunes = texts.flatMap((text) => readText(text).tunes.map(({ tune }) => tune));
  const work = harpsToOwn(tunes, harps, { abilities, mostBent, owned });
  for (;;) {
    const step = work.next();
    if (step.done === true) return { kind: "owned", harps: step.value, tunes: tunes.length };
    report({ kind: "progress", ...step.value });
  }
}
