import { findDevice, realDevices, type SoundDevice, soundDevice, systemDevice } from "./sound-device.ts";

/** One way of the sound, in or out. */
export interface WayInUse {
  /** What can be chosen. */
  readonly present: readonly SoundDevice[];
  /** Null for whichever the system has chosen. */
  readonly chosen: SoundDevice | null;
  /** What sound takes; null where nothing is known of it. */
  readonly used: SoundDevice | null;
  /** True while the chosen one is away and the system's own is used instead. */
  readonly isAway: boolean;
}

export interface DevicesState {
  readonly input: WayInUse;
  readonly output: WayInUse;
  /** Where the browser offers no way to choose, sound goes out by the system's own device. */
  readonly canChooseOutput: boolean;
  /** One sentence if the chosen output could not be taken, or null. */
  readonly trouble: string | null;
}

/** What is needed of the browser. */
export interface DeviceWorld {
  readonly list: () => Promise<readonly MediaDeviceInfo[]>;
  readonly onChange: (listener: () => void) => void;
  /** Sends the sound out by a device, "" for the system's own; null where the browser cannot. */
  readonly sendTo: ((id: string) => Promise<void>) | null;
}

export interface DeviceChoice {
  readonly input: SoundDevice | null;
  readonly output: SoundDevice | null;
}

const NOTHING: WayInUse = { present: [], chosen: null, used: null, isAway: false };

/** The microphones and loudspeakers there are, what the player chose, and what is used: followed as they come and go. */
export class SoundDevices {
  private state: DevicesState;
  private choice: DeviceChoice = { input: null, output: null };
  private listed: readonly MediaDeviceInfo[] = [];
  private sentTo = "";
  private readonly listeners = new Set<() => void>();

  constructor(private readonly world: DeviceWorld) {
    this.state = { input: NOTHING, output: NOTHING, canChooseOutput: world.sendTo !== null, trouble: null };
    world.onChange(() => void this.refresh());
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly getState = (): DevicesState => this.state;

  /** Takes what the player chose, now or on an earlier visit. */
  async choose(choice: DeviceChoice): Promise<void> {
    this.choice = choice;
    await this.follow();
  }

  /** Looks again at what is there: after the microphone was allowed, names can be read. */
  async refresh(): Promise<void> {
    // A browser that lists nothing still has the system's own devices.
    this.listed = await this.world.list().catch(() => []);
    await this.follow();
  }

  private async follow(): Promise<void> {
    const output = this.wayOf("audiooutput", this.choice.output);
    this.set({ ...this.state, input: this.wayOf("audioinput", this.choice.input), output });
    const { sendTo } = this.world;
    const id = output.chosen !== null && !output.isAway ? (output.used?.id ?? "") : "";
    if (sendTo === null || id === this.sentTo) return;
    this.sentTo = id;
    const trouble = await sendTo(id).then(
      () => null,
      (error: unknown) =>
        `${output.used?.name ?? "The loudspeaker"} could not be used (${error instanceof Error ? error.message : error}).`,
    );
    if (trouble !== null) this.sentTo = "";
    this.set({ ...this.state, trouble });
  }

  private wayOf(kind: MediaDeviceKind, chosen: SoundDevice | null): WayInUse {
    const listed = this.listed.filter((one) => one.kind === kind).map(soundDevice);
    const present = realDevices(listed);
    const found = chosen === null ? null : findDevice(chosen, present);
    const cannot = kind === "audiooutput" && this.world.sendTo === null;
    const used = cannot ? systemDevice(listed) : (found ?? systemDevice(listed));
    // Before the microphone is allowed no names are told, and nobody can say what is away.
    const named = present.some(({ name }) => name !== "");
    return { present, chosen, used, isAway: chosen !== null && found === null && named };
  }

  private set(state: DevicesState): void {
    this.state = state;
    for (const listener of this.listeners) listener();
  }
}
