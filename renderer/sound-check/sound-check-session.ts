import type { MeasuredDelay } from "../../core/delay/measured-delays.ts";
import { countDropouts } from "../../core/listen/dropouts.ts";
import { judgeSetUp } from "../../core/listen/set-up.ts";
import { milliseconds, type Seconds } from "../../core/units.ts";
import type { DelayMeasuring } from "../audio/delay-measuring.ts";
import type { LiveReading, MicrophoneSession, OpenMicrophone } from "../audio/microphone.ts";
import type { SoundDevices } from "../audio/sound-devices.ts";
import { soundPair } from "../audio/sound-pair.ts";
import { troubleWords, wayOn } from "../audio/sound-trouble.ts";
import { LevelFollower, NO_LEVELS } from "./level-follower.ts";
import {
  type Activity,
  CLOSED,
  type DelayOutcome,
  LOUDEST_PROBE_DB,
  type SoundCheckState,
} from "./sound-check-state.ts";

/** What a sound check needs of the world; the app hands in the real ones, tests their doubles. */
export interface SoundCheckServices {
  readonly openMicrophone: OpenMicrophone;
  readonly measuring: DelayMeasuring;
  readonly devices: SoundDevices;
  /** Milliseconds since 1970. */
  readonly nowEpochMs: () => number;
}

export const PHRASE_SECONDS = 10;
const LOOK_MS = 100;
/** Numbers that change more often cannot be read. */
const WORDS_SECONDS = 0.25;
const LOUDER_DB = 6;

/**
 * The sound check: an open microphone, what it hears, and the measuring of the delay. Every verb may be called at any time
 * and does nothing where it makes no sense.
 */
export class SoundCheckSession {
  private state = CLOSED;
  private readonly listeners = new Set<() => void>();
  private readonly readingListeners = new Set<(reading: LiveReading) => void>();
  private microphone: MicrophoneSession | null = null;
  private follower = new LevelFollower();
  private wordsAtSeconds = Number.NEGATIVE_INFINITY;
  /** Ends what is under way. */
  private underWay: AbortController | null = null;
  private openings = 0;
  private readonly stopFollowing: () => void;

  constructor(
    private readonly services: SoundCheckServices,
    private readonly onMeasured: (delay: MeasuredDelay) => void,
  ) {
    this.stopFollowing = services.devices.subscribe(() => this.followDevices());
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly getState = (): SoundCheckState => this.state;

  onReading(listener: (reading: LiveReading) => void): () => void {
    this.readingListeners.add(listener);
    return () => this.readingListeners.delete(listener);
  }

  /** Opens the microphone, or opens it anew after another was chosen. */
  async open(): Promise<MicrophoneSession | null> {
    this.stop();
    this.letGo();
    const mine = ++this.openings;
    this.set({
      microphone: { kind: "opening" },
      levels: NO_LEVELS,
      outcome: null,
      phrase: null,
      trouble: null,
    });
    const opened = await this.services.openMicrophone();
    if (mine !== this.openings) {
      if (opened.kind === "open") opened.session.close();
      return null;
    }
    if (opened.kind === "problem") {
      this.set({ microphone: { kind: "closed", trouble: opened.problem.words } });
      return null;
    }
    const { session } = opened;
    this.microphone = session;
    session.onReading((reading) => this.hear(reading));
    session.onEnded(({ trouble }) =>
      this.close(`${troubleWords(trouble)} ${wayOn(trouble, "open it again")}.`),
    );
    const { deviceName: name, insteadOf, refused, sampleRateHz } = session;
    this.set({ microphone: { kind: "open", name, insteadOf, refused, sampleRateHz } });
    return session;
  }

  close(trouble: string | null = null): void {
    this.stop();
    this.openings++;
    this.letGo();
    this.set({ microphone: { kind: "closed", trouble }, levels: NO_LEVELS });
  }

  /** Plays bursts of noise and finds them again. */
  async measureByLoudspeaker(): Promise<void> {
    await this.during({ kind: "by loudspeaker", share: 0 }, async (microphone, signal) => {
      const found = await this.services.measuring.byLoudspeaker(microphone, this.state.probeDb, {
        signal,
        onProgress: (share) => this.set({ activity: { kind: "by loudspeaker", share } }),
      });
      this.settle(microphone, { way: "loudspeaker", found });
    });
  }

  /** The same, a step louder: only when asked for. */
  async measureLouder(): Promise<void> {
    this.set({ probeDb: Math.min(LOUDEST_PROBE_DB, this.state.probeDb + LOUDER_DB) });
    await this.measureByLoudspeaker();
  }

  /** Has the player play on eight beats. */
  async measureByPlayingAlong(): Promise<void> {
    let beat: number | null = null;
    const tell = (share: number) => this.set({ activity: { kind: "by playing along", share, beat } });
    await this.during({ kind: "by playing along", share: 0, beat }, async (microphone, signal) => {
      const found = await this.services.measuring.byPlayingAlong(microphone, {
        signal,
        onProgress: tell,
        onBeat: (now) => {
          beat = now;
        },
      });
      this.settle(microphone, { way: "played along", found });
    });
  }

  /** Records ten seconds of playing and says whether they can be heard well enough. */
  async playPhrase(): Promise<void> {
    await this.during({ kind: "phrase", share: 0 }, async (microphone, signal) => {
      this.set({ phrase: null });
      await microphone.startTake();
      await this.waitFor(PHRASE_SECONDS, signal).catch((error: unknown) => {
        microphone.cancelTake();
        throw error;
      });
      const take = await microphone.stopTake();
      if (signal.aborted) return;
      const { listening, lostSamples, samples, sampleRateHz } = take;
      this.set({
        phrase: judgeSetUp({ listening, lostSamples, dropouts: countDropouts(samples, sampleRateHz) }),
      });
    });
  }

  /** Ends what is under way; the microphone stays open. */
  stop(): void {
    this.underWay?.abort();
    this.underWay = null;
    if (this.state.activity.kind !== "none") this.set({ activity: { kind: "none" } });
  }

  /** Closes everything: the screen is left. */
  dispose(): void {
    this.close();
    this.stopFollowing();
    this.listeners.clear();
    this.readingListeners.clear();
  }

  private async during(
    activity: Activity,
    work: (microphone: MicrophoneSession, signal: AbortSignal) => Promise<void>,
  ): Promise<void> {
    if (this.state.activity.kind !== "none") return;
    const microphone = this.microphone ?? (await this.open());
    if (microphone === null) return;
    const mine = new AbortController();
    this.underWay = mine;
    this.set({ activity, trouble: null });
    try {
      await work(microphone, mine.signal);
    } catch (error) {
      if (!mine.signal.aborted)
        this.set({ trouble: `That did not work: ${error instanceof Error ? error.message : error}.` });
    }
    if (this.underWay === mine) this.stop();
  }

  private settle(microphone: MicrophoneSession, outcome: DelayOutcome): void {
    this.set({ outcome });
    const { found, way } = outcome;
    if (found.kind !== "found") return;
    const inMs = (value: Seconds) => milliseconds(Math.round(1e4 * value) / 10);
    this.onMeasured({
      ...soundPair(microphone, this.services.devices.getState()),
      delayMs: inMs(found.delaySeconds),
      spreadMs: inMs(found.spreadSeconds),
      way,
      atEpochMs: this.services.nowEpochMs(),
    });
  }

  private waitFor(lengthSeconds: number, signal: AbortSignal): Promise<void> {
    // Not by the machine's clock, which may be set meanwhile.
    const began = performance.now();
    return new Promise((resolve, reject) => {
      const timer = setInterval(() => {
        const share = (performance.now() - began) / (1000 * lengthSeconds);
        if (signal.aborted || share >= 1) clearInterval(timer);
        if (signal.aborted) reject(new DOMException("stopped", "AbortError"));
        else if (share >= 1) resolve();
        else this.set({ activity: { kind: "phrase", share } });
      }, LOOK_MS);
    });
  }

  private hear(reading: LiveReading): void {
    for (const listener of this.readingListeners) listener(reading);
    // What the loudspeaker plays is neither the player's note nor noise.
    if (this.state.activity.kind === "by loudspeaker" || this.state.activity.kind === "by playing along")
      return;
    this.follower.take(reading);
    if (reading.atSeconds - this.wordsAtSeconds < WORDS_SECONDS) return;
    this.wordsAtSeconds = reading.atSeconds;
    this.set({ levels: this.follower.levels() });
  }

  /** The chosen microphone is back: it takes the place of the one used instead. */
  private followDevices(): void {
    const { microphone, activity } = this.state;
    const { isAway } = this.services.devices.getState().input;
    if (microphone.kind === "open" && microphone.insteadOf !== null && !isAway && activity.kind === "none")
      void this.open();
  }

  private letGo(): void {
    this.microphone?.close();
    this.microphone = null;
    this.follower = new LevelFollower();
    this.wordsAtSeconds = Number.NEGATIVE_INFINITY;
  }

  private set(part: Partial<SoundCheckState>): void {
    this.state = { ...this.state, ...part };
    for (const listener of this.listeners) listener();
  }
}
