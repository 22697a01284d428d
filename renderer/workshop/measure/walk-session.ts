import { knownReeds } from "../../../core/score/known-reeds.ts";
import type { ReedMeasurement, Settled } from "../../../core/workshop/measure/measurement.ts";
import {
  goTo,
  hearNote,
  type ReedWalk,
  settleReed,
  stepBack,
  takeHeld,
  walkOf,
} from "../../../core/workshop/measure/walk.ts";
import type { LiveReading, MicrophoneSession, OpenMicrophone } from "../../audio/microphone.ts";
import { troubleWords, wayOn } from "../../audio/sound-trouble.ts";

/** What the walk is doing. */
export type WalkActivity =
  /** `trouble` is why the microphone is closed, where something went wrong. */
  | { readonly kind: "paused"; readonly trouble: string | null }
  | { readonly kind: "opening" }
  | { readonly kind: "listening"; readonly deviceName: string };

export interface WalkState {
  readonly walk: ReedWalk;
  readonly activity: WalkActivity;
  /** Whether a reed sounds just now. */
  readonly sounding: boolean;
}

/**
 * A walk along the reeds with a microphone that is open while it goes on. Every verb may be called at any time and does nothing
 * where it makes no sense. What it has come to is told after every change, so that nothing is lost if it is left.
 */
export class WalkSession {
  private state: WalkState;
  private readonly listeners = new Set<() => void>();
  private microphone: MicrophoneSession | null = null;
  private openings = 0;
  /** The sound context's clock when the present listening began; null before its first reading. */
  private zeroSeconds: number | null = null;
  private nowSeconds = 0;

  constructor(
    measurement: ReedMeasurement,
    private readonly openMicrophone: OpenMicrophone,
    private readonly onChange: (measurement: ReedMeasurement) => void,
  ) {
    this.state = { walk: walkOf(measurement), activity: { kind: "paused", trouble: null }, sounding: false };
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly getState = (): WalkState => this.state;

  /** Pauses, or goes on. */
  toggle(): void {
    if (this.state.activity.kind === "paused") void this.listen();
    else this.pause();
  }

  /** Opens the microphone and hears notes. */
  async listen(): Promise<void> {
    if (this.state.activity.kind !== "paused" || this.state.walk.at === null) return;
    const mine = ++this.openings;
    this.set({ activity: { kind: "opening" } });
    const opened = await this.openMicrophone();
    if (mine !== this.openings) {
      if (opened.kind === "open") opened.session.close();
      return;
    }
    if (opened.kind === "problem") {
      this.set({ activity: { kind: "paused", trouble: opened.problem.words } });
      return;
    }
    this.follow(opened.session);
  }

  pause(trouble: string | null = null): void {
    this.openings++;
    this.microphone?.close();
    this.microphone = null;
    this.set({ activity: { kind: "paused", trouble }, sounding: false });
  }

  /** Done with the reed that is asked for, without measuring it. */
  settle(outcome: Settled): void {
    this.go(settleReed(this.state.walk, outcome, this.nowSeconds));
  }

  /** The note heard last is this reed, however far off it lies. */
  takeIt(): void {
    this.go(takeHeld(this.state.walk, this.nowSeconds));
  }

  back(): void {
    this.go(stepBack(this.state.walk, this.nowSeconds));
  }

  /** @param place of the measurement's reeds */
  goTo(place: number): void {
    this.go(goTo(this.state.walk, place, this.nowSeconds));
  }

  /** The walk is left. */
  dispose(): void {
    this.pause();
    this.listeners.clear();
  }

  private follow(microphone: MicrophoneSession): void {
    this.microphone = microphone;
    this.zeroSeconds = null;
    this.nowSeconds = 0;
    this.set({
      // Times count anew.
      walk: { ...this.state.walk, fromSeconds: 0, says: null, held: null },
      activity: { kind: "listening", deviceName: microphone.deviceName },
    });
    microphone.onEnded(({ trouble }) => this.pause(`${troubleWords(trouble)} ${wayOn(trouble, "go on")}.`));
    microphone.onReading((reading) => this.read(reading));
    const { harp } = this.state.walk.measurement;
    microphone.followNotes(knownReeds(harp), ({ note, nowSeconds }) => {
      this.nowSeconds = Math.max(this.nowSeconds, nowSeconds);
      this.go(hearNote(this.state.walk, note, nowSeconds));
    });
  }

  private read({ atSeconds, pitchMidi }: LiveReading): void {
    this.zeroSeconds ??= atSeconds;
    this.nowSeconds = Math.max(this.nowSeconds, atSeconds - this.zeroSeconds);
    const sounding = pitchMidi !== null;
    if (sounding !== this.state.sounding) this.set({ sounding });
  }

  private go(walk: ReedWalk): void {
    const before = this.state.walk;
    if (walk === before) return;
    this.set({ walk });
    if (walk.measurement !== before.measurement) this.onChange(walk.measurement);
    if (walk.at === null && before.at !== null) this.pause();
  }

  private set(part: Partial<WalkState>): void {
    this.state = { ...this.state, ...part };
    for (const listener of this.listeners) listener();
  }
}
