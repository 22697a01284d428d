import type { Page } from "playwright-core";

/**
 * Puts the microphone where the loudspeaker is: whatever goes out comes back in by a line of known delay, through the
 * program's own worklet and worker, under a little noise. Only the sound card between the two is left out.
 */
export async function returnSound(page: Page, delaySeconds: number, gain: number): Promise<void> {
  await page.addInitScript(
    ({ delaySeconds, gain }) => {
      const connect = AudioNode.prototype.connect as (this: AudioNode, to: AudioNode) => AudioNode;
      const lines = new WeakMap<BaseAudioContext, { into: DelayNode; out: GainNode }>();
      const lineOf = (context: BaseAudioContext) => {
        const known = lines.get(context);
        if (known !== undefined) return known;
        const into = new DelayNode(context, { delayTime: delaySeconds, maxDelayTime: 1 });
        const out = new GainNode(context, { gain });
        connect.call(into, out);
        lines.set(context, { into, out });
        return { into, out };
      };
      AudioNode.prototype.connect = function (this: AudioNode, to: AudioNode, ...rest: []) {
        if (to instanceof AudioDestinationNode) connect.call(this, lineOf(to.context).into);
        return connect.call(this, to, ...rest);
      } as typeof AudioNode.prototype.connect;
      AudioContext.prototype.createMediaStreamSource = function (this: AudioContext) {
        const heard = new GainNode(this);
        const hiss = new AudioBuffer({ length: this.sampleRate, sampleRate: this.sampleRate });
        hiss.getChannelData(0).forEach((_, n, samples) => {
          samples[n] = 0.001 * Math.sin(n * n); // no two alike, and the same each time
        });
        const noise = new AudioBufferSourceNode(this, { buffer: hiss, loop: true });
        connect.call(noise, heard);
        noise.start();
        connect.call(lineOf(this).out, heard);
        return heard as unknown as MediaStreamAudioSourceNode;
      };
    },
    { delaySeconds, gain },
  );
  await page.reload();
}

/** Devices that the test plugs in and out, and a microphone it plays. */
export async function pretendDevices(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const { mediaDevices } = navigator;
    const state: PretendSound = {
      plugged: JSON.parse(sessionStorage.getItem("plugged") ?? '["Desk microphone","Headset","Loudspeaker"]'),
      refuses: null,
      loudness: 0,
      asked: [],
      track: null,
      gain: null,
      context: null,
    };
    globalThis.pretendSound = state;
    const hear = AudioContext.prototype.createMediaStreamSource;
    AudioContext.prototype.createMediaStreamSource = function (stream) {
      state.context = this;
      return hear.call(this, stream);
    };
    mediaDevices.enumerateDevices = async () =>
      state.plugged.map((label) => ({
        deviceId: `mark of ${label}`,
        groupId: `body of ${label}`,
        kind: label.endsWith("oudspeaker") ? "audiooutput" : "audioinput",
        label,
        toJSON: () => ({}),
      }));
    mediaDevices.getUserMedia = async (wanted) => {
      const audio = wanted?.audio;
      const asked =
        typeof audio === "object" ? (audio.deviceId as { exact?: string } | undefined)?.exact : undefined;
      state.asked.push(asked ?? "");
      if (state.refuses !== null) throw new DOMException("no", state.refuses);
      const label = asked?.replace("mark of ", "") ?? "Desk microphone";
      if (!state.plugged.includes(label)) throw new DOMException("no", "OverconstrainedError");
      const context = new AudioContext();
      const gain = new GainNode(context, { gain: state.loudness });
      const reed = new OscillatorNode(context, { type: "sawtooth", frequency: 784 });
      const out = new MediaStreamAudioDestinationNode(context, { channelCount: 1 });
      reed.connect(gain).connect(out);
      reed.start();
      const track = out.stream.getAudioTracks()[0];
      if (track === undefined) throw new Error("no track");
      Object.defineProperty(track, "label", { value: label });
      track.getSettings = () => ({ deviceId: `mark of ${label}`, groupId: `body of ${label}` });
      state.track = track;
      state.gain = gain;
      return out.stream;
    };
  });
  await page.reload();
}

export interface PretendSound {
  plugged: string[];
  /** Name of the error that asking for a microphone ends in, or null. */
  refuses: string | null;
  /** Of the reed the next microphone hears; 0 is silence. */
  loudness: number;
  /** Marks of the microphones asked for; "" for any. */
  readonly asked: string[];
  track: MediaStreamTrack | null;
  gain: GainNode | null;
  /** The program's own that heard a microphone last. */
  context: AudioContext | null;
}

/** Has the page remember the tracks of every microphone it opens from now on, pretended or not. */
export async function watchMicrophones(page: Page): Promise<void> {
  await page.evaluate(() => {
    const tracks: MediaStreamTrack[] = [];
    globalThis.openedTracks = tracks;
    const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    navigator.mediaDevices.getUserMedia = async (wanted) => {
      const stream = await ask(wanted);
      tracks.push(...stream.getTracks());
      return stream;
    };
  });
}

/** How many of the watched microphones are open in truth, and whether the window says that one is. */
export async function microphonesOf(page: Page): Promise<{ readonly live: number; readonly said: boolean }> {
  const live = await page.evaluate(
    () => globalThis.openedTracks.filter(({ readyState }) => readyState === "live").length,
  );
  return { live, said: await page.getByText("Microphone open", { exact: true }).isVisible() };
}

declare global {
  var pretendSound: PretendSound;
  var openedTracks: MediaStreamTrack[];
}

/** Changes what is plugged in, now and after a reload. */
export async function plug(page: Page, ...names: string[]): Promise<void> {
  await page.evaluate((names) => {
    globalThis.pretendSound.plugged = names;
    sessionStorage.setItem("plugged", JSON.stringify(names));
    navigator.mediaDevices.dispatchEvent(new Event("devicechange"));
  }, names);
}
