import { useCallback, useEffect } from "react";
import { delayInUse } from "../../core/delay/measured-delays.ts";
import { milliseconds } from "../../core/units.ts";
import type { MicrophoneSession } from "../audio/microphone.ts";
import type { SoundDevices } from "../audio/sound-devices.ts";
import { soundPair } from "../audio/sound-pair.ts";
import type { Settings } from "../store/settings-store.ts";

/**
 * Has sound come in and go out by what the player chose.
 *
 * @returns which delay counts while a microphone is open
 */
export function useSoundDevices(devices: SoundDevices, settings: Settings) {
  const { input, output, measuredDelays, latencyMs } = settings;
  useEffect(() => void devices.refresh(), [devices]);
  useEffect(() => void devices.choose({ input, output }), [devices, input, output]);
  return useCallback(
    (microphone: MicrophoneSession) =>
      delayInUse(measuredDelays, milliseconds(latencyMs), soundPair(microphone, devices.getState())),
    [devices, measuredDelays, latencyMs],
  );
}
