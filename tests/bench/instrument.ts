/**
 * What a player's instrument costs to know: random layouts in the twelve keys, for each harp its twelve positions in every
 * mode, its chords, and one drill of each kind. Prints seconds and counts as JSON; nothing may throw.
 * Usage: node tests/bench/build.mjs instrument && node out/bench/instrument.js [layouts, 1000] [seed, 1]
 */
import type { DrillSetting, DrillSpec } from "../../core/exercise/drill-spec.ts";
import { makeDrill } from "../../core/exercise/make-drill.ts";
import { type Random, seededRandom } from "../../core/exercise/seeded-random.ts";
import { type Harp, harpInKey, KEYS_BY_REGISTER } from "../../core/instrument/harp.ts";
import { type Layout, layoutFromRows } from "../../core/instrument/layout.ts";
import { readLayout, writeLayout } from "../../core/instrument/layout-json.ts";
import { positionReports } from "../../core/instrument/position-report.ts";
import { positionHome } from "../../core/instrument/positions.ts";
import { PLAIN_AND_BENDS, reedActions } from "../../core/instrument/reed-actions.ts";
import { modeOn } from "../../core/instrument/scale-report.ts";
import { neighbourSonorities, splitOctaves } from "../../core/instrument/sonorities.ts";
import { triadReports } from "../../core/instrument/triads.ts";
import { MODE_NAMES, type ModeName } from "../../core/pitch/modes.ts";
import { bpm } from "../../core/units.ts";

const layouts = Number(process.argv[2] ?? 1000);
const random = seededRandom(Number(process.argv[3] ?? 1));
const seconds = { positions: 0, chords: 0, drills: 0 };
const made: Record<string, number> = {};
let harps = 0;
let drills = 0;

for (let count = 0; count < layouts; count++) {
  const layout = randomLayout(random);
  for (const key of KEYS_BY_REGISTER) {
    const harp = harpInKey(layout, key);
    if (harp === null) throw new Error(`no ${key} harp`);
    harps++;
    const position = below(12, random) + 1;
    const mode = MODE_NAMES[below(MODE_NAMES.length, random)] ?? "major";
    time("positions", () => positionReports(harp, PLAIN_AND_BENDS));
    time("chords", () => {
      const scale = modeOn(positionHome(harp, position), mode);
      return [triadReports(harp, scale), neighbourSonorities(harp, scale), splitOctaves(harp, scale)];
    });
    const specs = oneOfEach(harp, position, mode, random);
    time("drills", () => {
      for (const spec of specs) {
        drills++;
        if (makeDrill(spec).kind === "exercise") made[spec.kind] = (made[spec.kind] ?? 0) + 1;
      }
    });
  }
}
const total = seconds.positions + seconds.chords + seconds.drills;
process.stdout.write(
  `${JSON.stringify({ layouts, harps, drills, made, seconds: { ...seconds, total } }, null, 2)}\n`,
);

function time(what: keyof typeof seconds, work: () => unknown): void {
  const start = performance.now();
  work();
  seconds[what] += (performance.now() - start) / 1000;
}

function below(limit: number, from: Random): number {
  return Math.floor(from() * limit);
}

/** 4 to 16 holes, blow reeds rising by up to a fourth, the draw reed up to a fourth away; read as a layout file would be. */
function randomLayout(from: Random): Layout {
  const blow: number[] = [];
  const draw: number[] = [];
  let at = 0;
  for (let hole = 0; hole < 4 + below(13, from); hole++) {
    if (at > 50) break;
    blow.push(at);
    draw.push(at + below(8, from) - 2);
    at += 1 + below(5, from);
  }
  const read = readLayout(writeLayout(layoutFromRows("random", "random", { blow, draw })));
  if (read.kind === "unreadable") throw new Error(read.reason);
  return read.layout;
}

/** One drill of each kind, and of each figure of a bend. */
function oneOfEach(harp: Harp, position: number, mode: ModeName, from: Random): readonly DrillSpec[] {
  const setting: DrillSetting = {
    harp,
    position,
    mode,
    abilities: PLAIN_AND_BENDS,
    tempo: { bpm: bpm(90), noteValue: "1/4" },
    countInBeats: 4,
  };
  const running = { notesPerBeat: 2, rhythm: { kind: "swung", ratio: 1.5 }, accents: "beats" } as const;
  const range = { octaves: 1, start: "easiest", direction: "both" } as const;
  const seed = below(1e6, from);
  const bend = { holdBeats: 2, restBeats: 2, repeats: 4, targetShown: true, seed };
  const actions = reedActions(harp.layout, PLAIN_AND_BENDS).map((one) => one.action);
  const first = actions[below(actions.length, from)];
  const second = actions[below(actions.length, from)];
  if (first === undefined || second === undefined) throw new Error("a layout without reeds");
  return [
    { kind: "scale", ...setting, ...running, ...range },
    { kind: "arpeggio", ...setting, ...running, ...range, degree: "1", size: "seventh" },
    {
      kind: "progression",
      ...setting,
      ...running,
      numerals: mode === "major" ? "I-IV-V-I" : "i-VII-VI-VII",
      figure: "up",
      start: "easiest",
      repeats: 2,
    },
    { kind: "pattern", ...setting, ...running, ...range, figure: "1-2-3-1" },
    { kind: "bend", ...setting, ...bend, figure: "hold" },
    { kind: "bend", ...setting, ...bend, figure: "from-above" },
    { kind: "bend", ...setting, ...bend, figure: "match" },
    { kind: "bend", ...setting, ...bend, figure: "ladder" },
    { kind: "breath-pair", ...setting, first, second, rounds: [1, 2, 3, 4], roundBeats: 8 },
    { kind: "hole-jumps", ...setting, ...running, jump: 3, breath: "draw", direction: "both", repeats: 1 },
    { kind: "one-breath", ...setting, ...running, breath: "longest", repeats: 2 },
    { kind: "long-tones", ...setting, ...range, toneBeats: 4, restBeats: 4 },
    {
      kind: "random-notes",
      ...setting,
      ...range,
      count: 24,
      seed,
      targetAs: "name",
      noteBeats: 1,
      callBeats: 1,
    },
  ];
}
