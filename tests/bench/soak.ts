/**
 * Kills a browser at random moments of scripted practice: in the middle of a take, of keeping one, of bringing in an archive, of
 * an upgrade from an earlier version; after some of the kills the end of a database's log is left torn, which makes the browser throw
 * that database away when it opens it the time after. Looks each time whether everything that was told to be kept is there, to the bit, and whether
 * a full recount agrees. Prints JSON; exit status 1 if anything was lost, changed, risen or differs.
 * Usage: npm run soak -- [--kills 300] [--seed 1] [--beside 2] [--log FILE]
 * With a log, profiles that stand in it with the same seed are not done again: what was interrupted goes on there.
 */
import { appendFileSync, existsSync, readFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { type AfterKill, KILLS_A_PROFILE, type Moment, soakProfile } from "../e2e/soak.ts";
import { buildStoreRoom } from "../e2e/store-room.ts";

interface Logged {
  readonly seed: number;
  readonly profile: number;
  readonly kills: readonly AfterKill[];
  readonly seconds: number;
}

const { values } = parseArgs({
  options: {
    kills: { type: "string", default: "300" },
    seed: { type: "string", default: "1" },
    beside: { type: "string", default: "2" },
    log: { type: "string" },
  },
});
const seed = Number(values.seed);
const wanted = Math.ceil(Number(values.kills) / KILLS_A_PROFILE);
const logged: Logged[] = readLog(values.log).filter((one) => one.seed === seed && one.profile < wanted);
const waiting = Array.from({ length: wanted }, (_, profile) => profile).filter(
  (profile) => !logged.some((one) => one.profile === profile),
);
const room = await buildStoreRoom();
await Promise.all(Array.from({ length: Number(values.beside) }, next));
await room.close();
const result = summary(logged);
process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);
process.exitCode = result.lost + result.risen + result.changed + result.differencesFromRecount > 0 ? 1 : 0;

function readLog(file: string | undefined): readonly Logged[] {
  if (file === undefined || !existsSync(file)) return [];
  return readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => JSON.parse(line) as Logged);
}

async function next(): Promise<void> {
  for (let profile = waiting.shift(); profile !== undefined; profile = waiting.shift()) {
    const began = performance.now();
    const kills = await soakProfile(room, { seed, profile }, tell);
    const one = { seed, profile, kills, seconds: (performance.now() - began) / 1000 };
    logged.push(one);
    if (values.log !== undefined) appendFileSync(values.log, `${JSON.stringify(one)}\n`);
  }
}

function tell({
  profile,
  folder,
  during,
  kept,
  running,
  torn,
  diedOpening,
  broughtBack,
  lost,
  risen,
  changed,
  differences,
}: AfterKill): void {
  const faults = [...lost, ...risen, ...changed, ...differences].map((words) => `  ${words}\n`).join("");
  const tear = torn.length === 0 ? "" : `, the log of its ${torn.join(" and ")} left torn`;
  const again = diedOpening ? ", killed while opening" : "";
  const back = broughtBack === null ? "" : `, ${broughtBack} attempts brought back`;
  const where = faults === "" ? "" : `  the browser's files are kept in ${folder}\n`;
  process.stderr.write(
    `profile ${profile}, killed in ${during}${tear}${again}${back}: ${kept} attempts kept, ${running} takes running, ${lost.length} lost, ${risen.length} risen, ${changed.length} changed, ${differences.length} differences\n${faults}${where}`,
  );
}

function summary(profiles: readonly Logged[]) {
  const kills = profiles.flatMap((one) => one.kills);
  const sum = (of: (after: AfterKill) => number) => kills.reduce((all, after) => all + of(after), 0);
  const during = (moment: Moment) => kills.filter((one) => one.during === moment).length;
  return {
    seed,
    kills: kills.length,
    killedIn: {
      practice: during("practice"),
      bringingIn: during("bringing in"),
      upgrade: during("upgrade"),
    },
    logsLeftTorn: {
      history: kills.filter(({ torn }) => torn.includes("history")).length,
      secondCopy: kills.filter(({ torn }) => torn.includes("second copy")).length,
      both: kills.filter(({ torn }) => torn.length > 1).length,
      andKilledWhileOpening: kills.filter(({ diedOpening }) => diedOpening).length,
    },
    historiesThrownAway: kills.filter(({ broughtBack }) => broughtBack !== null).length,
    attemptsBroughtBack: sum(({ broughtBack }) => broughtBack ?? 0),
    killedWithATakeRunning: kills.filter(({ running }) => running > 0).length,
    attemptsLookedFor: sum(({ kept }) => kept),
    runningTakesLookedFor: sum(({ running }) => running),
    lost: sum(({ lost }) => lost.length),
    risen: sum(({ risen }) => risen.length),
    changed: sum(({ changed }) => changed.length),
    differencesFromRecount: sum(({ differences }) => differences.length),
    minutesOfBrowsers: Math.round(profiles.reduce((all, { seconds }) => all + seconds, 0) / 6) / 10,
  };
}
