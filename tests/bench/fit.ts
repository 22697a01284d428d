/**
 * What it costs to fit a folder of tunes: made-up reels against every layout, the twelve keys and an octave either way, the
 * best of each exactly; the same in every register; which harps to own for all of them. Prints seconds and ratios as JSON.
 * Usage: npm run bench:fit -- [tunes, 1000] [seed, 1]
 */
import { harpName, REGISTERS } from "../../core/instrument/harp.ts";
import { PLAIN_AND_BENDS, PLAIN_ONLY } from "../../core/instrument/reed-actions.ts";
import { STOCK_LAYOUTS } from "../../core/instrument/stock-layouts.ts";
import { bendlessShares } from "../../core/path/coverage.ts";
import { fitTunes } from "../../core/path/fit.ts";
import { harpsToOwn } from "../../core/path/harps-to-own.ts";
import { harpsToTry } from "../../core/path/harps-to-try.ts";
import { runToEnd } from "../../core/path/long-work.ts";
import { seededTunes } from "../support/seeded-tunes.ts";

const count = Number(process.argv[2] ?? 1000);
const tunes = seededTunes(count, Number(process.argv[3] ?? 1));
/** What is asked for: 1,000 tunes, 15 layouts, 12 keys in 10 s on one core. */
const MOST_SECONDS = 10;

const usual = harpsToTry({ layouts: STOCK_LAYOUTS });
const every = harpsToTry({ layouts: STOCK_LAYOUTS, registers: REGISTERS });
const fit = timed(() => runToEnd(fitTunes(tunes, usual)));
const fitEvery = timed(() => runToEnd(fitTunes(tunes, every)));
const ownBent = timed(() =>
  runToEnd(harpsToOwn(tunes, every, { abilities: PLAIN_AND_BENDS, mostBent: 0.1 })),
);
const ownPlain = timed(() => runToEnd(harpsToOwn(tunes, usual, { abilities: PLAIN_ONLY, shifts: [0] })));
const shares = timed(() => bendlessShares(tunes, STOCK_LAYOUTS, "any octave"));

const owned = ({ result, ...times }: typeof ownBent) => ({
  ...times,
  smallest: result.smallest.map(harpName),
  proved: result.provedSmallest,
  bestOfSize: result.bestOfSize.map((best) => [best.tunes, best.proved]),
  oneByOne: result.oneByOne.map((next) => next.tunes),
  unplayable: result.unplayable.length,
});
const report = {
  tunes: count,
  layouts: STOCK_LAYOUTS.length,
  fit: {
    harps: usual.length,
    seconds: fit.seconds,
    cpuSeconds: fit.cpuSeconds,
    ofWhatIsAllowed: fit.cpuSeconds / MOST_SECONDS,
    withoutMissingNote: fit.result.best.filter((fits) => fits[0]?.missing === 0).length / count,
  },
  fitEveryRegister: { harps: every.length, seconds: fitEvery.seconds, cpuSeconds: fitEvery.cpuSeconds },
  ownATenthBent: owned(ownBent),
  ownWithoutBends: owned(ownPlain),
  bendlessShares: {
    seconds: shares.seconds,
    byLayout: Object.fromEntries(STOCK_LAYOUTS.map((layout, place) => [layout.id, shares.result[place]])),
  },
};
process.stdout.write(`${JSON.stringify(report, null, 2)}\n`);

function timed<T>(work: () => T): {
  readonly result: T;
  readonly seconds: number;
  readonly cpuSeconds: number;
} {
  const [start, before] = [performance.now(), process.cpuUsage()];
  const result = work();
  const { user, system } = process.cpuUsage(before);
  return { result, seconds: (performance.now() - start) / 1000, cpuSeconds: (user + system) / 1e6 };
}
