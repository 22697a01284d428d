import { type LeakScore, leakScore } from "../measures/leak-measures.ts";
import { type SeedResult, scoreOf, scoreOver } from "./measured.ts";
import { fixed, percent, table } from "./numbers.ts";

/** So many clean notes may be called leaky. */
export const FALSE_ALARM_SHARE = 0.03;

export const LEAK_TAKES: readonly (readonly [string, RegExp])[] = [
  ["dry, -12 dB, 250 ms", /^mel250_leakmix12$/],
  ["dry, -12 dB, 125 ms", /^reel125_leakmix12$/],
  ["dry, -20 dB, 250 ms", /^mel250_leakmix20$/],
  ["dry, -20 dB, 125 ms", /^reel125_leakmix20$/],
  ["reverberation, -12 dB, 250 ms", /^mel250_leakmix12_reverb$/],
  ["reverberation, -12 dB, 125 ms", /^reel125_leakmix12_reverb$/],
  ["20 dB of noise, -12 dB, 250 ms", /^mel250_leakmix12_snr20$/],
  ["20 dB of noise, -12 dB, 125 ms", /^reel125_leakmix12_snr20$/],
  ["20 dB of noise, -20 dB, 250 ms", /^mel250_leakmix20_snr20$/],
  ["20 dB of noise, -20 dB, 125 ms", /^reel125_leakmix20_snr20$/],
  ["every note leaky, -12 dB", /_leak12$/],
  ["every note leaky, -20 dB", /_leak20$/],
  ["no note leaky, dry, melodies", /^(mel250|reel125)_(white|pink|scoop|laptop)/],
  ["no note leaky, steady, vibrato, tremolo", /^(steady|long)/],
  ["no note leaky, 10 dB of noise", /^(mel250|reel125)_pink10$/],
  ["no note leaky, reverberation", /^(mel250|reel125)_reverb$/],
  ["recorded harmonica", /^sf_.*_harm/],
];

/** Takes in which listening with and without the harp in mind may differ. */
export const isOfLeaks = (take: string) => /leakmix|^(mel250|reel125)_(pink10|reverb)$/.test(take);

export const leaksOver = (result: SeedResult, engine: string, takes: RegExp): LeakScore =>
  leakScore(scoreOver(result, engine, takes).leaks, FALSE_ALARM_SHARE);

const KNOWN_HEADS = ["harp known: found %", "false alarms %", "right reed %"];

function knownCells(result: SeedResult, takes: RegExp): string[] {
  const s = leakScore(scoreOf(result.harpKnown, takes).leaks, FALSE_ALARM_SHARE);
  return s.leaky + s.clean === 0
    ? ["", "", ""]
    : [percent(s.found), percent(s.falseAlarms), percent(s.rightReed)];
}

/** What an engine says of second reeds, as it comes and at 3 % false alarms; beside it, what this program says that knows the harp. */
export function leakTable(result: SeedResult, engine: string): string {
  const rows = LEAK_TAKES.flatMap(([label, takes]) => {
    const s = leaksOver(result, engine, takes);
    if (s.leaky + s.clean === 0) return [];
    const row = [
      label,
      `${s.leaky} / ${s.clean}`,
      percent(s.found),
      percent(s.falseAlarms),
      percent(s.foundAtLimit),
      s.levelDb === null ? "all" : fixed(s.levelDb, 1),
      percent(s.rightReed),
      ...knownCells(result, takes),
    ];
    return [row];
  });
  return table(
    [
      "takes",
      "leaky / clean",
      "found %",
      "false alarms %",
      "found % at 3 %",
      "above dB",
      "right reed %",
      ...KNOWN_HEADS,
    ],
    rows,
  );
}
