import { LiveMeter } from "./live-meter.ts";
import { NoteTeller } from "./note-teller.ts";
import { TakeRecorder } from "./take-recorder.ts";
import type { ListenCommand, ListenReport, TapBlock } from "./tap-messages.ts";

const report = (message: ListenReport, transfer: Transferable[] = []) =>
  self.postMessage(message, { transfer });

let recorder: TakeRecorder | null = null;
let teller: NoteTeller | null = null;
let rateHz = 0;
let tellsPieces = false;

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
      connect(command.port, command.sampleRateHz);
      return;
    case "start":
      tellsPieces = command.inPieces;
      recorder?.start(command.known);
      report({ kind: "started" });
      return;
    case "cancel":
      recorder?.cancel();
      return;
    case "stop":
      finish(command.untilFrame);
      return;
    case "follow":
      teller = new NoteTeller(rateHz, command.known);
      return;
    case "unfollow":
      teller = null;
      return;
  }
}

function connect(port: MessagePort, sampleRateHz: number): void {
  const ear = new TakeRecorder(
    sampleRateHz,
    (piece) => {
      if (tellsPieces) report({ kind: "piece", ...piece }, [piece.samples.buffer]);
    },
    (missingSamples) => report({ kind: "broken off", missingSamples }),
  );
  const meter = new LiveMeter(sampleRateHz);
  recorder = ear;
  rateHz = sampleRateHz;
  port.onmessage = ({ data: block }: MessageEvent<TapBlock>) => {
    const shown = meter.take(block, ear.take(block));
    if (shown !== null) report(shown);
    for (const told of teller?.take(block) ?? []) report({ kind: "note", ...told });
  };
}

function finish(untilFrame: number | null): void {
  const take = recorder?.stop(untilFrame) ?? null;
  if (take === null) report({ kind: "failed", reason: "no sound came from the microphone" });
  else report({ kind: "take", ...take }, [take.samples.buffer]);
}
