import { burstsOf } from "../../core/delay/bursts.ts";
import { loopbackDelay } from "../../core/delay/loopback-delay.ts";
import { seconds } from "../../core/units.ts";
import type { DelayJob, DelayReport } from "./delay-messages.ts";

self.onmessage = ({ data }: MessageEvent<DelayJob>) => {
  const { played, recorded, sampleRateHz, playedSeconds } = data;
  const bursts = burstsOf(played, sampleRateHz);
  self.postMessage(
    loopbackDelay(bursts, recorded, sampleRateHz, seconds(playedSeconds)) satisfies DelayReport,
  );
};
