/** A microphone or a loudspeaker. */
export interface SoundDevice {
  /** The browser's own mark of it; may change from visit to visit. */
  readonly id: string;
  /** As the system calls it; empty until the microphone has been allowed once. */
  readonly name: string;
  /** Devices of one body, as a headset's two, share it; may change from visit to visit. */
  readonly group: string;
}

/** What the browser lists besides the devices themselves: names for whichever the system has chosen. */
const ALIASES: readonly string[] = ["default", "communications", ""];

export const soundDevice = ({ deviceId, label, groupId }: MediaDeviceInfo): SoundDevice => ({
  id: deviceId,
  name: label,
  group: groupId,
});

/** The devices themselves, without names that stand for another. */
export function realDevices(listed: readonly SoundDevice[]): readonly SoundDevice[] {
  return listed.filter(({ id }) => !ALIASES.includes(id));
}

/** The device that sound takes where none is chosen; null where the browser does not say. */
export function systemDevice(listed: readonly SoundDevice[]): SoundDevice | null {
  const alias = listed.find(({ id }) => id === "default");
  const real = realDevices(listed);
  if (alias === undefined) return real[0] ?? null;
  return real.find(({ group }) => group !== "" && group === alias.group) ?? alias;
}

/**
 * The device that was chosen on an earlier visit, among those that are there now: by its mark, else by name and body,
 * else by name alone; null where it is away.
 */
export function findDevice(chosen: SoundDevice, present: readonly SoundDevice[]): SoundDevice | null {
  const sameName = present.filter(({ name }) => chosen.name !== "" && name === chosen.name);
  return (
    present.find(({ id }) => id === chosen.id) ??
    sameName.find(({ group }) => group === chosen.group) ??
    sameName[0] ??
    null
  );
}

/** Words by which systems call what has no wire. */
const WIRELESS = /\b(bluetooth|wireless|hands[- ]?free|a2dp|hfp|earbuds?|buds)\b/i;
/** Wired ways take 20 to 100 ms, wireless ones 150 to 300 [M]; from here on wire is unlikely. */
const WIRELESS_FROM_SECONDS = 0.12;

/** Whether a device, by its name or by how late it sounds, seems to have no wire. */
export function seemsWireless(name: string, outputLatencySeconds = 0): boolean {
  return WIRELESS.test(name) || outputLatencySeconds >= WIRELESS_FROM_SECONDS;
}
