import type { SoundPair } from "../../core/delay/measured-delays.ts";
import { hz } from "../../core/units.ts";
import type { DevicesState } from "./sound-devices.ts";

/** Where the browser does not tell what the system's own output is. */
const SYSTEM_OUTPUT = "the system's own loudspeaker";

export const outputName = ({ output }: DevicesState): string => output.used?.name || SYSTEM_OUTPUT;

/** What sound comes in and goes out by while a microphone is open: what a measured delay is kept for. */
export function soundPair(
  microphone: { readonly deviceName: string; readonly sampleRateHz: number },
  devices: DevicesState,
): SoundPair {
  return {
    inputName: microphone.deviceName,
    outputName: outputName(devices),
    sampleRateHz: hz(microphone.sampleRateHz),
  };
}
