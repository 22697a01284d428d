import type { SoundTrouble } from "./sound-trouble.ts";

/** The clocks and the state of the sound at one moment. */
export interface Look {
  /** The machine's clock, which anybody may set. */
  readonly wallSeconds: number;
  /** A clock that only goes on; whether it counts sleep depends on the system. */
  readonly steadySeconds: number;
  /** The sound context's clock: it counts the samples that went by. */
  readonly soundSeconds: number;
  /** As the browser has it: "running", "suspended", "interrupted" or "closed". */
  readonly contextState: string;
  /** Readings of the microphone so far. */
  readonly readings: number;
  /** What the microphone is, as far as the browser says. */
  readonly deviceId: string;
  /** Null where the browser does not say. */
  readonly rateHz: number | null;
}

/** What was found, and up to when all was well on the sound context's clock. */
export interface Found {
  readonly trouble: SoundTrouble;
  readonly wholeUntilSeconds: number;
}

/** The machine's clock is never set ahead so far by itself: clocks are kept right by small steps. */
const LEAST_SLEEP_SECONDS = 1.5;
/** What the sound's clock may fall behind within `WINDOW_SECONDS`: sound cards differ by hundredths of a per cent. */
const MOST_BEHIND_SECONDS = 0.5;
const WINDOW_SECONDS = 3;
/** A step of the sound's clock this much too short is where it began to stand. */
const STEP_BEHIND_SECONDS = 0.1;
/** A steady clock that jumps so far between two looks has counted a sleep. */
const SLEPT_BETWEEN_LOOKS_SECONDS = 5;
/** Readings come thirty times a second. */
const LONGEST_WITHOUT_READING_SECONDS = 3;
/** A window that was held up looks late once; a microphone that gives nothing is looked at many times. */
const LOOKS_WITHOUT_READING = 8;

/**
 * Compares three clocks, look by look, to tell what a recording cannot show by itself: while the sound stands still its
 * own clock does too, and what was recorded before and after lies side by side without a seam.
 *
 * A clock set back changes nothing that is marked, and is no trouble.
 */
export class SoundWatch {
  private looks: Look[] = [];
  private withoutReading: Look[] = [];

  /** @returns what went wrong since the look before; the watch then begins anew */
  look(now: Look): Found | null {
    const before = this.looks.at(-1);
    this.looks = [
      ...this.looks.filter((one) => now.steadySeconds - one.steadySeconds <= WINDOW_SECONDS),
      now,
    ];
    const found = before === undefined ? stateOf(now) : this.compare(before, now);
    if (found === null) return null;
    this.looks = [];
    this.withoutReading = [];
    return { trouble: found, wholeUntilSeconds: before === undefined ? now.soundSeconds : this.whole };
  }

  private whole = 0;

  private compare(before: Look, now: Look): SoundTrouble | null {
    this.whole = before.soundSeconds;
    const steady = now.steadySeconds - before.steadySeconds;
    const slept = now.wallSeconds - before.wallSeconds - steady;
    if (slept > LEAST_SLEEP_SECONDS) return { kind: "slept", seconds: slept };
    const behind = steady - (now.soundSeconds - before.soundSeconds);
    if (behind > SLEPT_BETWEEN_LOOKS_SECONDS) return { kind: "slept", seconds: behind };
    return this.standing(now) ?? stateOf(now) ?? changeOf(before, now) ?? this.silence(now);
  }

  private standing(now: Look): SoundTrouble | null {
    const first = this.looks[0] ?? now;
    const behind = now.steadySeconds - first.steadySeconds - (now.soundSeconds - first.soundSeconds);
    if (behind <= MOST_BEHIND_SECONDS) return null;
    const stood = this.looks.findIndex((one, place) => {
      const next = this.looks[place + 1];
      if (next === undefined) return false;
      const step = next.steadySeconds - one.steadySeconds - (next.soundSeconds - one.soundSeconds);
      return step > STEP_BEHIND_SECONDS;
    });
    this.whole = this.looks[Math.max(0, stood)]?.soundSeconds ?? this.whole;
    return { kind: "stood still" };
  }

  private silence(now: Look): SoundTrouble | null {
    const known = this.withoutReading[0];
    if (known === undefined || known.readings !== now.readings) {
      this.withoutReading = [now];
      return null;
    }
    this.withoutReading.push(now);
    const lasts = now.steadySeconds - known.steadySeconds;
    if (lasts < LONGEST_WITHOUT_READING_SECONDS || this.withoutReading.length < LOOKS_WITHOUT_READING)
      return null;
    this.whole = known.soundSeconds;
    return { kind: "no sound arrives" };
  }
}

const stateOf = ({ contextState }: Look): SoundTrouble | null =>
  contextState === "running" ? null : { kind: "stood still" };

function changeOf(before: Look, now: Look): SoundTrouble | null {
  if (now.deviceId !== before.deviceId) return { kind: "another microphone", name: "" };
  if (now.rateHz === before.rateHz || before.rateHz === null || now.rateHz === null) return null;
  return { kind: "rate changed", fromHz: before.rateHz, toHz: now.rateHz };
}
