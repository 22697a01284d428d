import childProcess from "node:child_process";
import dgram from "node:dgram";
import dns from "node:dns";
import fs from "node:fs";
import http from "node:http";
import https from "node:https";
import { syncBuiltinESMExports } from "node:module";
import net from "node:net";

type Functions = Record<string, unknown>;

/** What writes, and what reaches beyond this machine or starts something on it. */
const WRITING = [
  "writeFile",
  "appendFile",
  "mkdir",
  "mkdtemp",
  "rename",
  "unlink",
  "rm",
  "rmdir",
  "symlink",
  "link",
  "truncate",
  "copyFile",
  "cp",
  "chmod",
  "chown",
  "utimes",
  "writeFileSync",
  "appendFileSync",
  "mkdirSync",
  "mkdtempSync",
  "renameSync",
  "unlinkSync",
  "rmSync",
  "rmdirSync",
  "symlinkSync",
  "linkSync",
  "truncateSync",
  "copyFileSync",
  "cpSync",
  "chmodSync",
  "createWriteStream",
] as const;
const OPENING = ["open", "openSync"] as const;
const REACHING: readonly (readonly [Functions, readonly string[]])[] = [
  [net as unknown as Functions, ["connect", "createConnection", "createServer"]],
  [http as unknown as Functions, ["request", "get", "createServer"]],
  [https as unknown as Functions, ["request", "get"]],
  [dns as unknown as Functions, ["lookup", "resolve"]],
  [dgram as unknown as Functions, ["createSocket"]],
  [
    childProcess as unknown as Functions,
    ["spawn", "spawnSync", "exec", "execSync", "execFile", "execFileSync", "fork"],
  ],
  [globalThis as unknown as Functions, ["fetch"]],
];

/**
 * From here on every function that would write, reach out or start something is refused and told of; what only reads works as
 * before. For a thread of its own: nothing is put back.
 *
 * @param allow  whether a path may be written nevertheless
 * @param onCall told what was called and with what first argument
 */
export function watchWrites(onCall: (what: string) => void): void {
  const refuse = (name: string) => (first: unknown) => {
    const what = `${name}(${String(first).slice(0, 120)})`;
    onCall(what);
    throw new Error(`refused here: ${what}`);
  };
  for (const from of [fs, fs.promises] as unknown as readonly Functions[]) {
    for (const name of WRITING) if (name in from) from[name] = refuse(name);
    for (const name of OPENING) {
      const original = from[name] as ((...args: unknown[]) => unknown) | undefined;
      if (original === undefined) continue;
      const refused = refuse(name);
      from[name] = (...args: unknown[]) =>
        opensToWrite(args[1]) ? refused(args[0]) : original.apply(from, args);
    }
  }
  for (const [from, names] of REACHING) for (const name of names) from[name] = refuse(name);
  syncBuiltinESMExports();
}

/** Flags as the file system has them: "r" reads alone. Source: Node's documentation of file system flags. */
function opensToWrite(flags: unknown): boolean {
  if (typeof flags === "number")
    return (flags & (fs.constants.O_WRONLY | fs.constants.O_RDWR | fs.constants.O_CREAT)) !== 0;
  return typeof flags === "string" && !/^r?s?$/.test(flags);
}
