import { type BlockReading, TakeRecorder } from "./take-recorder.ts";
import type { ListenCommand, ListenReport, TapBlock } from "./tap-messages.ts";

/** Readings reach the screen this often at most. */
const READING_SECONDS = 1 / 30;
/** A microphone that the system keeps shut gives exact zeros; a real one never does for this long. */
const SILENT_SECONDS = 1;

const report = (message: ListenReport, transfer: Transferable[] = []) =>
  self.postMessage(message, { transfer });

let recorder: TakeRecorder | null = null;
let rate = 48_000;
let lastReadingFrame = Number.NEGATIVE_INFINITY;
let lastSoundFrame = Number.POSITIVE_INFINITY;

self.onmessage = (event: MessageEvent<ListenCommand>) => {
  try {
    obey(event.data);
  } catch (error) {
    report({ kind: "failed", reason: error instanceof Error ? error.message : String(error) });
  }
};

function obey(command: ListenCommand): void {
  switch (command.kind) {
    case "connect":
      rate = command.sampleRateHz;
      recorder = new TakeRecorder(rate);
      command.port.onmessage = (event: MessageEvent<TapBlock>) => takeIn(event.data);
      return;
    case "start":
      recorder?.start();
      report({ kind: "started" });
      return;
    case "cancel":
      recorder?.cancel();
      return;
    case "stop":
      finish();
      return;
  }
}

function finish(): void {
  const take = recorder?.stop() ?? null;
  if (take === null) report({ kind: "failed", reason: "no sound came from the microphone" });
  else report({ kind: "take", ...take }, [take.samples.buffer]);
}

function takeIn(block: TapBlock): void {
  if (recorder === null) return;
  const reading = recorder.take(block);
  if (lastSoundFrame > block.frame || block.samples.some((sample) => sample !== 0))
    lastSoundFrame = block.frame;
  if (block.frame - lastReadingFrame < READING_SECONDS * rate) return;
  lastReadingFrame = block.frame;
  tell(block, reading);
}

function tell(block: TapBlock, reading: BlockReading): void {
  const silent = block.frame - lastSoundFrame > SILENT_SECONDS * rate;
  report({ kind: "reading", frame: block.frame, silent, ...reading });
}
