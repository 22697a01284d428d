// By file, not from "tone": its index makes a context of its own at once, with the clock described below.
import { Context } from "tone/build/esm/core/context/Context.js";
import { setContext } from "tone/build/esm/core/Global.js";

/** The one clock and output of the window: microphone, reference, beat and replay all count in its seconds. */
export interface SoundContext {
  readonly context: AudioContext;
  /** What sounds goes through here; its gain is the loudness. */
  readonly output: GainNode;
}

let made: SoundContext | null = null;
let tone: Context | null = null;
/** Timers of the window, twenty a second; "offline" is none. */
const TICKING = "timeout";

/** The window's sound, made on first use, and anew where the system has closed it; running once the player has touched a key or button. */
export function soundContext(): SoundContext {
  if (made !== null && made.context.state !== "closed") return made;
  const context = new AudioContext();
  const output = context.createGain();
  output.gain.value = loudnessToGain(loudnessDb);
  output.connect(context.destination);
  // Tone's usual clock is a worker made from text, which the content policy blocks without a word.
  tone = new Context({ context, clockSource: TICKING });
  setContext(tone);
  made = { context, output };
  // Should it be away by now, the system's own is used; the list of devices tells.
  if (outputId !== "") sendTo(outputId).catch(() => {});
  return made;
}

/** Not in TypeScript's DOM library yet. Source: Web Audio API 1.1, AudioContext.setSinkId. */
interface ChoosesOutput {
  setSinkId(id: string): Promise<void>;
}

const choosesOutput = (context: object): context is ChoosesOutput => "setSinkId" in context;

/** Whether the browser lets sound go out by another device than the system's own. */
export const canSendTo = (): boolean =>
  typeof AudioContext !== "undefined" && choosesOutput(AudioContext.prototype);

/** Device that sound is to go out by; "" for the system's own. */
let outputId = "";

/**
 * Sends the sound out by a device, now or when there is sound.
 *
 * @param id as the browser lists it; "" for the system's own
 * @throws whatever the browser says of a device that cannot be used
 */
export async function sendTo(id: string): Promise<void> {
  outputId = id;
  // The context is not made for this: browsers want a key or button pressed first.
  if (made !== null && choosesOutput(made.context)) await made.context.setSinkId(id);
}

/** How long after it left the sound context a sound is heard, by the system's own account; 0 where it says nothing. */
export const outputLatencySeconds = (): number => made?.context.outputLatency || 0;

const QUIETEST_DB = -60;
const LOUDEST_DB = 0;
/** Begins low: headphones may be on. */
let loudnessDb = -18;

/** Sets the loudness in dB re full scale, held to -60 … 0. It never rises by itself. */
export function setLoudness(db: number): void {
  loudnessDb = db;
  // The context is not made for this: browsers want a key or button pressed first.
  made?.output.gain.setTargetAtTime(loudnessToGain(db), made.context.currentTime, 0.01);
}

function loudnessToGain(db: number): number {
  return 10 ** (Math.max(QUIETEST_DB, Math.min(LOUDEST_DB, db)) / 20);
}

/** Nothing sounds and nobody listens for so long: the sound goes to sleep, and costs nothing until it is woken. */
const AWAKE_MS = 20_000;
let inUse = 0;
let sleeping: ReturnType<typeof setTimeout> | undefined;

/** Something sounds or listens from now on; the sound is awake. @returns how to say that it is over; more than once changes nothing */
export function keepAwake(): () => void {
  inUse++;
  clearTimeout(sleeping);
  let isOver = false;
  return () => {
    if (isOver) return;
    isOver = true;
    inUse--;
    if (inUse === 0) sleeping = setTimeout(sleep, AWAKE_MS);
  };
}

function sleep(): void {
  if (inUse > 0 || made === null || tone === null) return;
  // Its clock would tick on, and the sound card be fed with silence.
  tone.clockSource = "offline";
  made.context.suspend().catch(() => {});
}

/** A sound card may need a second or two to wake. */
const LONGEST_WAKING_MS = 4000;

/**
 * Wakes the context; browsers keep it asleep until a key or button is pressed. One whose device is gone never wakes: it
 * gives way to another.
 *
 * @throws Error, in words, if there is no sound to be had
 */
export async function wakeSound(): Promise<void> {
  if (await wakes(soundContext().context)) return;
  await made?.context.close().catch(() => {});
  if (await wakes(soundContext().context)) return;
  throw new Error("the system gives no sound; choose what to hear by in the sound check");
}

async function wakes(context: AudioContext): Promise<boolean> {
  if (tone !== null && tone.clockSource !== TICKING) tone.clockSource = TICKING;
  clearTimeout(sleeping);
  if (inUse === 0) sleeping = setTimeout(sleep, AWAKE_MS);
  if (context.state === "running") return true;
  const longest = new Promise<void>((resolve) => setTimeout(resolve, LONGEST_WAKING_MS));
  await Promise.race([context.resume().catch(() => {}), longest]);
  return isRunning(context);
}

/** Asked anew: the state changes while one waits. */
const isRunning = ({ state }: AudioContext): boolean => state === "running";
