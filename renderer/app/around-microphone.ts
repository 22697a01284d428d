import { notLookedAt, onNotLookedAt } from "../audio/attention.ts";
import type { OpenMicrophones } from "../audio/open-microphones.ts";
import type { SoundDevices } from "../audio/sound-devices.ts";
import type { Surroundings } from "../audio/surroundings.ts";

/** The real surroundings: this window, the devices there are, and the sign that says a microphone is open. */
export function aroundMicrophone(devices: SoundDevices, microphones: OpenMicrophones): Surroundings {
  return {
    ways: () => {
      const { input, output } = devices.getState();
      return { input: input.used?.name || null, output: output.used?.name || null };
    },
    onWays: devices.subscribe,
    notLookedAt,
    onNotLookedAt,
    opened: microphones.opened,
  };
}
