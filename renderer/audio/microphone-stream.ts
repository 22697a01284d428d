import { findDevice, realDevices, type SoundDevice, soundDevice, systemDevice } from "./sound-device.ts";

/** Reed tones are wrecked by what helps speech. Wishes, not conditions: a microphone that refuses is better than none. */
const WANTED: MediaTrackConstraints & { readonly voiceIsolation: boolean } = {
  echoCancellation: false,
  noiseSuppression: false,
  autoGainControl: false,
  voiceIsolation: false,
  channelCount: 1,
};

const ask = (deviceId?: string) =>
  navigator.mediaDevices.getUserMedia({
    audio: deviceId === undefined ? WANTED : { ...WANTED, deviceId: { exact: deviceId } },
    video: false,
  });

/** Lets go of a microphone. */
export function stopTracks(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}

/** The chosen microphone if it is there, else the system's own. */
export async function streamFrom(wanted: SoundDevice | null): Promise<MediaStream> {
  if (wanted === null) return ask();
  const chosen = (findDevice(wanted, await microphones()) ?? wanted).id;
  try {
    return await ask(chosen);
  } catch (error) {
    if (!AWAY.includes(nameOf(error))) throw error;
  }
  const stream = await ask();
  // Now that the microphone is allowed, names can be read, and the chosen one may be there under another mark.
  const found = findDevice(wanted, await microphones());
  if (found === null || found.id === chosen) return stream;
  stopTracks(stream);
  return ask(found.id);
}

const AWAY: readonly string[] = ["OverconstrainedError", "NotFoundError"];

/** By name only: what says that a wish cannot be met is no DOMException in every browser. */
const nameOf = (error: unknown) =>
  typeof error === "object" && error !== null && "name" in error ? String(error.name) : "";

/** The microphones the browser lists, without names until one was allowed. */
export async function microphones(): Promise<readonly SoundDevice[]> {
  // Not every browser lists its devices; a microphone that is not on the list is as good.
  const listed = await navigator.mediaDevices.enumerateDevices().catch(() => []);
  return listed.filter(({ kind }) => kind === "audioinput").map(soundDevice);
}

/** Which microphone a track is of: itself, not the name the system has for its own choice. */
export function deviceOf(track: MediaStreamTrack, listed: readonly SoundDevice[]): SoundDevice {
  const { deviceId = "", groupId = "" } = track.getSettings();
  const told = { id: deviceId, name: track.label, group: groupId };
  const real = realDevices(listed);
  if (real.some(({ id }) => id === deviceId)) return told;
  return deviceId === "default" ? (systemDevice(listed) ?? told) : told;
}

const PROCESSING: readonly (readonly [setting: string, words: string])[] = [
  ["echoCancellation", "echo cancellation"],
  ["noiseSuppression", "noise suppression"],
  ["autoGainControl", "automatic gain"],
  ["voiceIsolation", "voice isolation"],
];

/** Read back, because asking is not getting. Some systems report a mode by name instead of true. */
export function refusedProcessing(track: MediaStreamTrack): readonly string[] {
  const settings: Readonly<Record<string, unknown>> = { ...track.getSettings() };
  return PROCESSING.filter(([setting]) => Boolean(settings[setting])).map(([, words]) => words);
}
