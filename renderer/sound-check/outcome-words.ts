import type { SetUpFault, SetUpReport } from "../../core/listen/set-up.ts";
import { dbfsWords } from "./findings.ts";
import { type DelayOutcome, LOUDEST_PROBE_DB } from "./sound-check-state.ts";

const inMs = (value: number) => `${Math.round(1e4 * value) / 10} ms`;

/** What the last measuring of the delay came to, and what to do where it failed. */
export function outcomeWords(outcome: DelayOutcome, probeDb: number): string {
  return outcome.way === "loudspeaker" ? loudspeakerWords(outcome.found, probeDb) : alongWords(outcome.found);
}

function loudspeakerWords(
  found: Extract<DelayOutcome, { way: "loudspeaker" }>["found"],
  probeDb: number,
): string {
  switch (found.kind) {
    case "found":
      return `Found ${found.clearBursts} times of ${found.bursts}, ${inMs(found.spreadSeconds)} apart.`;
    case "not heard": {
      const heard =
        found.clearBursts === 0
          ? "The bursts were not heard."
          : `Heard clearly only ${found.clearBursts} times of ${found.bursts}.`;
      return probeDb < LOUDEST_PROBE_DB
        ? `${heard} Bring the microphone near the loudspeaker, keep quiet, or try it louder.`
        : `${heard} Bring the microphone near the loudspeaker, or play along to the beat instead.`;
    }
    case "unsteady":
      return `The sound came back ${inMs(found.spreadSeconds)} apart from one time to the next: no one delay. Close other programs that play sound, or use a wire, and measure again.`;
  }
}

function alongWords(found: Extract<DelayOutcome, { way: "played along" }>["found"]): string {
  switch (found.kind) {
    case "found":
      return `${found.usedBeats} of ${found.beats} notes counted, give or take ${inMs(found.spreadSeconds)}.`;
    case "too few":
      return `Only ${found.usedBeats} of ${found.beats} beats had a note. Play one short note on each beat.`;
    case "uneven":
      return `The notes came give or take ${inMs(found.spreadSeconds)}: too uneven to tell. Try once more, listening first.`;
    case "ahead":
      return `The notes came ${inMs(found.aheadSeconds)} before the beat. Wait for each beat, and try once more.`;
  }
}

/**
 * What the test phrase says of the set-up.
 *
 * @param doubts what else keeps it from being good enough, in number
 */
export function phraseWords({ faults, notes, levelDbfs }: SetUpReport, doubts: number): string {
  if (faults.length > 0) return "Not good enough yet:";
  const heard = `${notes} notes heard${levelDbfs === null ? "" : ` at ${dbfsWords(levelDbfs)}`}`;
  return doubts === 0 ? `Good enough: ${heard}.` : `${heard}, but:`;
}

/** Why a set-up is not good enough, and what to do. */
export function faultWords(fault: SetUpFault): string {
  switch (fault.kind) {
    case "nothing heard":
      return "Nothing was heard. Is this the right microphone, and is it switched on?";
    case "few notes":
      return `Only ${fault.heard} ${fault.heard === 1 ? "note was" : "notes were"} heard. Play the whole phrase, near the microphone.`;
    case "too quiet":
      return `Too quiet: your notes come in at ${dbfsWords(fault.levelDbfs)}. Come nearer, or turn the microphone's level up.`;
    case "clipping":
      return "Clipping: move away from the microphone, or turn its level down.";
    case "noise":
      return `Your notes stand only ${Math.max(0, Math.round(fault.aboveDb))} dB above the noise. Turn off what hums or hisses, or come nearer.`;
    case "held notes break off":
      return `Held notes break off after ${Math.round(10 * fault.longestSeconds) / 10} s: something in the system takes them for noise. Turn off noise suppression in its sound settings.`;
    case "dropouts":
      return `Sound was lost on the way ${fault.dropouts === 1 ? "once" : `${fault.dropouts} times`}. Close other programs, or use another socket.`;
  }
}
