import { useEffect, useRef, useState } from "react";
import type { KeptMeasurement } from "../../../core/workshop/measure/measurement.ts";
import { takeInWords } from "../../../core/workshop/measure/take-words.ts";
import { recordingBytes } from "../../audio/file-limit.ts";
import type { MeasureServices } from "./measure-services.ts";

/** Measuring a recording: how far it is, and what is to be said of it. */
export interface RecordedWalk {
  readonly share: number | null;
  readonly words: readonly string[];
  readonly open: (file: File, into: KeptMeasurement) => Promise<void>;
  readonly stop: () => void;
}

/** @param onMeasured told what was measured, once at least one reed was */
export function useRecordedWalk(
  services: MeasureServices,
  onMeasured: (measurement: KeptMeasurement) => void,
): RecordedWalk {
  const [share, setShare] = useState<number | null>(null);
  const [words, setWords] = useState<readonly string[]>([]);
  const underWay = useRef(new AbortController());
  useEffect(() => () => underWay.current.abort(), []);
  const open = async (file: File, into: KeptMeasurement) => {
    underWay.current.abort();
    const mine = new AbortController();
    underWay.current = mine;
    setWords([]);
    setShare(0);
    const said = await measureFile(services, file, into, mine.signal, setShare, onMeasured);
    if (mine.signal.aborted) return;
    setShare(null);
    setWords(said);
  };
  const stop = () => {
    underWay.current.abort();
    setShare(null);
  };
  return { share, words, open, stop };
}

/** @returns what is to be said of it, a sentence each */
async function measureFile(
  { decodeRecording, measureWork }: MeasureServices,
  file: File,
  into: KeptMeasurement,
  signal: AbortSignal,
  onProgress: (share: number) => void,
  onMeasured: (measurement: KeptMeasurement) => void,
): Promise<readonly string[]> {
  try {
    const read = await decodeRecording(file.name, await recordingBytes(file), { signal });
    if (read.kind === "unreadable") return [`${file.name}: ${read.reason}.`];
    const options = { signal, onProgress };
    const take = await measureWork.take(read.samples, read.sampleRateHz, into.harp, options);
    if (take.measurement.reeds.every(({ outcome }) => outcome !== "measured")) {
      return [`${file.name}: no reed of this harp was heard. Is it the right harp?`];
    }
    onMeasured({ ...into, ...take.measurement, finished: true });
    return takeInWords(take);
  } catch (error) {
    return [`${file.name}: ${error instanceof Error ? error.message : error}.`];
  }
}
