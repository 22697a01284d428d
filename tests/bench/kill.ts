/**
 * Kills a browser in the middle of practice at many moments, and looks each time whether every attempt that was told to be kept
 * is there and whether a full recount agrees with what is kept. Prints JSON; exit status 1 if anything was lost or differs.
 * Usage: npm run kill -- [--moments 200] [--seed 1] [--beside 4]
 */
import { parseArgs } from "node:util";
import { killPractice } from "../e2e/killed-practice.ts";
import { buildStoreRoom } from "../e2e/store-room.ts";

const { values } = parseArgs({
  options: {
    moments: { type: "string", default: "200" },
    seed: { type: "string", default: "1" },
    beside: { type: "string", default: "4" },
  },
});
const [moments, seed] = [Number(values.moments), Number(values.seed)];
const room = await buildStoreRoom();
const began = performance.now();
const found = await killPractice(room, {
  seed,
  moments,
  aProfile: 10,
  beside: Number(values.beside),
  onMoment: ({ moment, acknowledged, lost, risen, differences }) =>
    process.stderr.write(
      `${moment + 1} of ${moments}: ${acknowledged} kept, ${lost.length} lost, ${risen.length} risen, ${differences.length} differences\n${[...lost, ...risen, ...differences].map((words) => `  ${words}\n`).join("")}`,
    ),
});
await room.close();
const sum = (of: (after: (typeof found)[number]) => number) =>
  found.reduce((all, after) => all + of(after), 0);
const result = {
  seed,
  moments: found.length,
  attemptsKeptWhenKilled: {
    fewest: Math.min(...found.map((one) => one.acknowledged)),
    most: Math.max(...found.map((one) => one.acknowledged)),
  },
  attemptsLookedFor: sum(({ acknowledged }) => acknowledged),
  lost: sum(({ lost }) => lost.length),
  deletedOnesRisen: sum(({ risen }) => risen.length),
  differencesFromRecount: sum(({ differences }) => differences.length),
  minutes: Math.round((performance.now() - began) / 6000) / 10,
};
process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);
process.exitCode = result.lost + result.deletedOnesRisen + result.differencesFromRecount > 0 ? 1 : 0;
