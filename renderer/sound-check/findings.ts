import type { DelayInUse } from "../../core/delay/measured-delays.ts";
import { seemsWireless } from "../audio/sound-device.ts";
import type { DevicesState } from "../audio/sound-devices.ts";
import type { Levels } from "./level-follower.ts";
import type { SoundCheckState } from "./sound-check-state.ts";

/** One line of the sound check: well, to be mended, or not known yet; and in words what is, and what to do. */
export interface Finding {
  readonly kind: "ok" | "mend" | "open";
  readonly words: string;
}

export interface Findings {
  readonly device: Finding;
  readonly level: Finding;
  readonly noise: Finding;
  readonly delay: Finding;
}

const ok = (words: string): Finding => ({ kind: "ok", words });
const mend = (words: string): Finding => ({ kind: "mend", words });
const open = (words: string): Finding => ({ kind: "open", words });

/** Softer notes are called too quiet on the practice sheet as well [P]. */
const LEAST_NOTE_DBFS = -50;
/** What the listening was tried with: see `core/listen/set-up.ts`. */
const LEAST_ABOVE_NOISE_DB = 20;
/** Where no note has sounded yet: notes at a usual -25 dBFS would stand 20 dB above it [P]. */
const MOST_NOISE_DBFS = -45;
/** Quieter cannot be told apart in words. */
const QUIETEST_DBFS = -90;

/** The four lines, as things stand. */
export function findingsOf(
  state: SoundCheckState,
  devices: DevicesState,
  delay: DelayInUse | null,
  outputLatencySeconds: number,
): Findings {
  return {
    device: deviceFinding(state, devices, outputLatencySeconds),
    level: levelFinding(state),
    noise: noiseFinding(state),
    delay: delayFinding(delay),
  };
}

function deviceFinding(
  { microphone }: SoundCheckState,
  devices: DevicesState,
  outputLatencySeconds: number,
): Finding {
  if (microphone.kind !== "open") return open("Whether the right microphone hears you.");
  const { output } = devices;
  const troubles = [
    ...(microphone.insteadOf === null
      ? []
      : [`${microphone.insteadOf} is not there; ${microphone.name} is used. Plug it in, or choose another.`]),
    ...(output.isAway
      ? [`${output.chosen?.name} is not there; sound goes out by ${output.used?.name ?? "the system's own"}.`]
      : []),
    ...(devices.trouble === null ? [] : [devices.trouble]),
    ...(microphone.refused.length === 0
      ? []
      : [
          `The system will not turn off ${microphone.refused.join(" and ")}, which spoils reed tones. Turn it off in the system's sound settings, or use another microphone.`,
        ]),
    ...(seemsWireless(microphone.name)
      ? ["A microphone without a wire sounds like a telephone. One with a wire is heard better."]
      : []),
    ...(seemsWireless(output.used?.name ?? "", outputLatencySeconds)
      ? [
          "Headphones or a loudspeaker without a wire sound late, and not always equally late. Use a wire where timing counts.",
        ]
      : []),
  ];
  return troubles.length === 0 ? ok(`${microphone.name} is open.`) : mend(troubles.join(" "));
}

function levelFinding({ microphone, levels }: SoundCheckState): Finding {
  if (microphone.kind !== "open") return open("Whether your notes come in loud enough.");
  if (levels.silent)
    return mend(
      "No sound at all. Is the microphone switched on, and is Reedpath allowed to hear it in the system's settings?",
    );
  if (levels.clipped) return mend("Clipping. Move away from the microphone, or turn its level down.");
  if (levels.noteDbfs === null) return open("Play a note and hold it.");
  const words = `Notes come in at ${dbfsWords(levels.noteDbfs)}`;
  if (levels.noteDbfs < LEAST_NOTE_DBFS)
    return mend(`${words}: too quiet. Come nearer, or turn the microphone up.`);
  return ok(`${words}.`);
}

function noiseFinding({ microphone, levels }: SoundCheckState): Finding {
  if (microphone.kind !== "open") return open("Whether the room is quiet enough.");
  if (levels.silent) return open("");
  if (levels.noiseDbfs === null) return open("Be silent for a moment.");
  const words = `The room is at ${dbfsWords(levels.noiseDbfs)}${aboveWords(levels)}`;
  return isNoisy(levels)
    ? mend(`${words}: too loud. Turn off what hums or hisses, or come nearer.`)
    : ok(`${words}.`);
}

function isNoisy({ noteDbfs, noiseDbfs }: Levels): boolean {
  if (noiseDbfs === null) return false;
  if (noteDbfs === null) return noiseDbfs > MOST_NOISE_DBFS;
  return noteDbfs - noiseDbfs < LEAST_ABOVE_NOISE_DB;
}

function aboveWords({ noteDbfs, noiseDbfs }: Levels): string {
  if (noteDbfs === null || noiseDbfs === null) return "";
  const above = Math.round(noteDbfs - Math.max(QUIETEST_DBFS, noiseDbfs));
  return above > 0 ? `, your notes ${above} dB above it` : "";
}

function delayFinding(delay: DelayInUse | null): Finding {
  if (delay === null) return open("How late your notes come in.");
  switch (delay.kind) {
    case "by hand":
      return ok(`${Math.round(delay.delayMs)} ms, set by hand, is taken off every note.`);
    case "measured": {
      const { measured } = delay;
      if (measured.way === "loudspeaker")
        return ok(`${Math.round(delay.delayMs)} ms, measured by loudspeaker, is taken off every note.`);
      return ok(
        `${Math.round(delay.delayMs)} ms, give or take ${Math.ceil(measured.spreadMs)}, is taken off every note. Played along, so less sure: people play a little early, and that is hidden in it.`,
      );
    }
    case "unknown":
      return mend(
        delay.others > 0
          ? "Not measured for this microphone and loudspeaker: early and late are not sure."
          : "Not measured: early and late are off, often by 20 to 100 ms.",
      );
  }
}

/** A level in words, to whole decibels. */
export function dbfsWords(level: number): string {
  if (level < QUIETEST_DBFS) return `less than −${-QUIETEST_DBFS} dBFS`;
  return `${Math.round(level) < 0 ? "−" : ""}${Math.abs(Math.round(level))} dBFS`;
}

const MEANWHILE = {
  "by loudspeaker": "Measuring: keep quiet.",
  "by playing along": "Play on the beat.",
  phrase: "Play the phrase now.",
} as const;

/** The answer to the one question of the screen. */
export function verdictOf(state: SoundCheckState, { device, level, noise, delay }: Findings): string {
  const { microphone, activity } = state;
  if (activity.kind !== "none") return MEANWHILE[activity.kind];
  if (microphone.kind === "closed") return microphone.trouble ?? "Can this set-up hear you well enough?";
  if (microphone.kind === "opening") return "Opening the microphone …";
  const lines = [device, level, noise, delay];
  const toMend = lines.filter(({ kind }) => kind === "mend").length;
  if (toMend === 1) return "Not yet: one thing to do.";
  if (toMend > 1) return `Not yet: ${toMend} things to do.`;
  if (lines.some(({ kind }) => kind === "open"))
    return level.kind === "open" ? "Play a note." : "Nearly there.";
  return "This set-up hears you well.";
}
