#!/usr/bin/env node
// @ts-check
import { spawnSync } from "node:child_process";
import { chmodSync, cpSync, mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";

/**
 * Stands in for the program the packing tool has Debian packages made by, which it would download: takes the same
 * arguments and has dpkg-deb make the package. It runs none of the scripts it is given; the package holds them.
 */

/** Arguments that stand for themselves; every other one has a value after it. */
const FLAGS = ["--force"];

/** @type {Map<string, string[]>} */
const options = new Map();
/** @type {string[]} */
const mappings = [];
const args = process.argv.slice(2);
for (let n = 0; n < args.length; n++) {
  const name = args[n] ?? "";
  if (FLAGS.includes(name)) continue;
  if (name.startsWith("-")) options.set(name, [...(options.get(name) ?? []), args[++n] ?? ""]);
  else mappings.push(name);
}
const one = (/** @type {string} */ name) => options.get(name)?.at(-1) ?? "";
const list = (/** @type {string} */ name) => (options.get(name) ?? []).join(", ");
if (one("-t") !== "deb" || one("-s") !== "dir")
  throw new Error("only Debian packages of folders are made here");

const root = mkdtempSync(path.join(tmpdir(), "reedpath-deb-"));
for (const mapping of mappings) {
  const [from = "", to = ""] = mapping.split("=");
  const target = path.join(root, to);
  mkdirSync(path.dirname(target), { recursive: true });
  cpSync(from, target, { recursive: true });
  if (statSync(from).isFile()) chmodSync(target, 0o644);
}
const control = path.join(root, "DEBIAN");
mkdirSync(control);
const fields = {
  Package: one("--name"),
  Version: one("--version"),
  Architecture: one("--architecture"),
  Maintainer: one("--maintainer"),
  Depends: list("-d") || list("--depends"),
  Recommends: list("--deb-recommends"),
  Priority: one("--deb-priority"),
  Homepage: one("--url"),
  Description: one("--description").trim(),
};
const lines = Object.entries(fields).flatMap(([name, value]) => (value === "" ? [] : [`${name}: ${value}`]));
writeFileSync(path.join(control, "control"), `${lines.join("\n")}\n`);
for (const [option, name] of [
  ["--after-install", "postinst"],
  ["--after-remove", "postrm"],
]) {
  cpSync(one(option ?? ""), path.join(control, name ?? ""));
  chmodSync(path.join(control, name ?? ""), 0o755);
}
const made = spawnSync("dpkg-deb", ["--root-owner-group", "--build", "-Znone", root, one("--package")], {
  encoding: "utf8",
});
rmSync(root, { recursive: true });
if (made.status !== 0) {
  process.stderr.write(made.stderr);
  process.exitCode = 1;
}
