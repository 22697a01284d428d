import { naturalModeOf } from "../../core/instrument/position-report.ts";
import { positionOfHome } from "../../core/instrument/positions.ts";
import { modeOn } from "../../core/instrument/scale-report.ts";
import { neighbourSonorities, type Sonority, splitOctaves } from "../../core/instrument/sonorities.ts";
import { type TriadReport, triadReports } from "../../core/instrument/triads.ts";
import { pitchClassOfName } from "../../core/pitch/note-names.ts";
import { fileWords, readArguments } from "./arguments.ts";
import { HARP_OPTIONS, harpOption, harpToJson } from "./harp-option.ts";
import { homeOption, MODE_OPTIONS, modeOption } from "./home-option.ts";
import type { Io } from "./io.ts";

/** Prints what sounds together on a harp, named in a home key and mode. */
export async function chords(args: readonly string[], io: Io): Promise<void> {
  const read = readArguments(args, [...HARP_OPTIONS, ...MODE_OPTIONS, "home"]);
  fileWords(read, []);
  const harp = await harpOption(read);
  const homeName = homeOption(read, harp);
  const home = pitchClassOfName(homeName) ?? 0;
  const position = positionOfHome(harp, home);
  const mode = modeOption(read) ?? naturalModeOf(harp, position) ?? "major";
  const scale = modeOn(home, mode, homeName);
  const printed = {
    schema: "reedpath.chords",
    version: 1,
    harp: harpToJson(harp),
    home: homeName,
    mode,
    position,
    triads: triadReports(harp, scale).map(triadToJson),
    neighbours: neighbourSonorities(harp, scale).map(sonorityToJson),
    splitOctaves: splitOctaves(harp, scale).map(sonorityToJson),
  };
  io.stdout(`${JSON.stringify(printed, null, 2)}\n`);
}

function triadToJson(triad: TriadReport) {
  const { numeral, noteNames, has, complete, partial } = triad;
  return { numeral, notes: noteNames, has, complete, partial };
}

function sonorityToJson(one: Sonority) {
  return {
    breath: one.breath,
    holes: one.holes,
    blocked: one.blocked,
    notes: one.noteNames,
    chords: one.chordNames,
    numeral: one.numeral,
    intervals: one.intervals.map(({ lowHole, highHole, name, ratio, beatsPerSecond }) => ({
      holes: [lowHole, highHole],
      name,
      ratio,
      beatsPerSecond: beatsPerSecond === null ? null : Math.round(beatsPerSecond * 100) / 100,
    })),
  };
}
