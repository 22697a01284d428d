/** What broke into listening without the player's doing, each by its name. */
export type SoundTrouble =
  | { readonly kind: "unplugged" }
  | { readonly kind: "muted" }
  /** Machine or window slept, or the machine's clock was set ahead: from within the two look alike. */
  | { readonly kind: "slept"; readonly seconds: number }
  /** The sound stood still: the system took it away for a while. */
  | { readonly kind: "stood still" }
  | { readonly kind: "no sound arrives" }
  | { readonly kind: "samples missing"; readonly seconds: number }
  | { readonly kind: "another microphone"; readonly name: string }
  | { readonly kind: "rate changed"; readonly fromHz: number; readonly toHz: number }
  | { readonly kind: "output gone"; readonly name: string }
  | { readonly kind: "sound failed" }
  /** The player wants it closed while the window is not seen, or another has the keys. */
  | { readonly kind: "not looked at"; readonly how: "hidden" | "behind another window" };

/** What happened, as a sentence of its own. */
export function troubleWords(trouble: SoundTrouble): string {
  switch (trouble.kind) {
    case "unplugged":
      return "The microphone was unplugged or switched off.";
    case "muted":
      return "The system has muted the microphone.";
    case "slept":
      return `The machine slept, or its clock was set ahead by ${span(trouble.seconds)}.`;
    case "stood still":
      return "The system took the sound away for a while.";
    case "no sound arrives":
      return "No sound arrives from the microphone any more.";
    case "samples missing":
      return `${span(trouble.seconds)} of the sound never arrived.`;
    case "another microphone":
      return `The system now listens by ${trouble.name || "another microphone"}.`;
    case "rate changed":
      return `The microphone changed from ${trouble.fromHz} to ${trouble.toHz} samples a second.`;
    case "output gone":
      return `${trouble.name} is no longer what you hear by.`;
    case "sound failed":
      return "The loudspeaker or headphones failed.";
    case "not looked at":
      return `The microphone was closed as this window was ${trouble.how}.`;
  }
}

/** The way on, without a full stop: "Plug it in and start again". @param again what is done again, as a part of it */
export function wayOn(trouble: SoundTrouble, again = "start again"): string {
  switch (trouble.kind) {
    case "unplugged":
      return `Plug it in and ${again}`;
    case "muted":
      return `Let it hear again and ${again}`;
    case "output gone":
    case "sound failed":
      return `Choose what to hear by (Sound check), and ${again}`;
    default:
      return again.charAt(0).toUpperCase() + again.slice(1);
  }
}

const span = (seconds: number): string => {
  if (seconds >= 5400) return `${Math.round(seconds / 3600)} hours`;
  if (seconds >= 90) return `${Math.round(seconds / 60)} minutes`;
  return seconds >= 10 ? `${Math.round(seconds)} s` : `${seconds.toFixed(1)} s`;
};
