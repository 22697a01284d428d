import { seededRandom } from "../../../core/exercise/seeded-random.ts";
import { harpInKey } from "../../../core/instrument/harp.ts";
import { PLAIN_AND_BENDS } from "../../../core/instrument/reed-actions.ts";
import { STANDARD_LAYOUT } from "../../../core/instrument/stock-layouts.ts";
import { harpsToTry } from "../../../core/path/harps-to-try.ts";
import { runToEnd } from "../../../core/path/long-work.ts";
import { FIRST_WEIGHTS } from "../../../core/path/weights.ts";
import { readAbc } from "../../../core/tune/abc/read-abc.ts";
import { midi } from "../../../core/units.ts";
import { coverLine } from "../../../core/workshop/design/cover-design.ts";
import { keysShare } from "../../../core/workshop/design/keys-share.ts";
import { FIRST_LIMITS } from "../../../core/workshop/design/limits.ts";
import { type TuneLine, tuneLine } from "../../../core/workshop/design/tune-line.ts";
import type { DesignWish } from "../../../core/workshop/design/wish.ts";
import { seededTunes } from "../../support/seeded-tunes.ts";
import { SHIPPED_FILES, shippedText } from "../../support/shipped-tunes.ts";
import type { BenchSection } from "./section.ts";

/** What is asked for: 1,000 tunes in 30 s in a worker. */
const [TUNES, MOST_SECONDS] = [1000, 30];

/** The whole G major scale on a stock C harp, within several limits; what four keys play; 1,000 made-up reels searched for. */
export const DESIGN: BenchSection = {
  name: "design",
  run: ({ seeds }) => [...scales(), ...keys(), ...(seeds ?? [1]).flatMap(tunes)],
};

function wishWith(mostSemitones: number, scales: DesignWish["scales"]): DesignWish {
  const harp = harpInKey(STANDARD_LAYOUT, "C");
  if (harp === null) throw new Error("there is a C harp");
  return { harp, scales, limits: { ...FIRST_LIMITS, mostSemitones }, chordsCount: true, mustHave: [] };
}

/** D4 to B6. */
const G_MAJOR: DesignWish["scales"] = [
  { homeName: "G", home: 7, mode: "major", low: midi(62), high: midi(95) },
];

function scales(): readonly string[] {
  const rows = [1, 2, 3, 4, 6, 12].map((most) => {
    const { result, seconds } = timed(() => runToEnd(coverLine(wishWith(most, G_MAJOR), { most: 3 })));
    const [first] = result.kind === "line" ? result.points : [];
    const told =
      first === undefined
        ? result.kind
        : `${first.changed} changed, ${first.moved} semitones, ${first.ways} ways`;
    return `  within ${most} semitones: ${told} (${(1000 * seconds).toFixed(0)} ms)`;
  });
  return ["G major from D4 to B6 on a stock C harp, exactly:", ...rows];
}

function keys(): readonly string[] {
  const line = runToEnd(coverLine(wishWith(2, G_MAJOR)));
  const found = line.kind === "line" ? line.points[0]?.layouts[0] : undefined;
  const along = SHIPPED_FILES.flatMap((file) => {
    const read = readAbc(shippedText(file));
    return read.kind === "tunes" ? read.tunes : [];
  });
  const layouts = [STANDARD_LAYOUT, ...(found === undefined ? [] : [found])];
  return [
    "Tunes that come along which four keys play without a bend:",
    ...layouts.map((layout, place) => {
      const { harps, tunes: played, of, proved } = runToEnd(keysShare(along, layout));
      const named = harps.map(({ key }) => key).join(", ");
      return `  ${place === 0 ? "stock" : "seven reeds changed"}: ${played} of ${of} with ${named}${proved ? "" : ", at least"}`;
    }),
  ];
}

function tunes(seed: number): readonly string[] {
  const made = seededTunes(TUNES, seed).map((tune) => ({ tune, weight: 1 }));
  const harps = harpsToTry({ layouts: [STANDARD_LAYOUT] });
  const setting = { harps, abilities: PLAIN_AND_BENDS, weights: FIRST_WEIGHTS };
  const search = () =>
    runToEnd(tuneLine(wishWith(2, []), { tunes: made, setting, random: seededRandom(seed) }));
  const { result, seconds, cpuSeconds } = timed(search);
  if (result.kind !== "line") return [result.kind];
  return [
    `${TUNES} made-up reels, seed ${seed}: ${seconds.toFixed(1)} s, ${cpuSeconds.toFixed(1)} s of one core, ${(seconds / MOST_SECONDS).toFixed(2)} of what is allowed`,
    ...pointsInWords(result),
  ];
}

function pointsInWords({ notes, start, points }: Extract<TuneLine, { kind: "line" }>): readonly string[] {
  return points.map(({ changed, moved, fit }) => {
    const plain = ((100 * fit.notPlain) / notes).toFixed(2);
    const effort = ((100 * fit.effort) / start.effort).toFixed(1);
    return `  ${changed} changed, ${moved} semitones: ${plain} % of notes not plain, ${fit.missing} missing, effort ${effort} % of the start`;
  });
}

function timed<T>(work: () => T) {
  const [start, before] = [performance.now(), process.cpuUsage()];
  const result = work();
  const { user, system } = process.cpuUsage(before);
  return { result, seconds: (performance.now() - start) / 1000, cpuSeconds: (user + system) / 1e6 };
}
