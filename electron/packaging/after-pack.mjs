// @ts-check
import { readFile, writeFile } from "node:fs/promises";
import path from "node:path";

const KEY = "<key>NSAppTransportSecurity</key>";

/**
 * Takes out of a macOS property list that the program may load anything over the network unencrypted: the packing tool
 * puts that into every program, and this one loads nothing from anywhere.
 *
 * @param {string} plist as XML
 * @returns {string}
 * @throws {Error} where the value is no dictionary, or has no end
 */
export function withoutTransportException(plist) {
  const begin = plist.indexOf(KEY);
  if (begin === -1) return plist;
  const tags = /<dict\/>|<dict>|<\/dict>/g;
  tags.lastIndex = begin;
  let depth = 0;
  for (let tag = tags.exec(plist); tag !== null; tag = tags.exec(plist)) {
    if (tag[0] !== "<dict/>") depth += tag[0] === "<dict>" ? 1 : -1;
    if (depth === 0) return plist.slice(0, begin).trimEnd() + plist.slice(tags.lastIndex);
  }
  throw new Error("the property list of the program has no end");
}

/**
 * What the packing tool does once a program is packed, and before it is signed.
 * @param {{ electronPlatformName: string, appOutDir: string, packager: { appInfo: { productFilename: string } } }} packed
 */
export default async function afterPack({ electronPlatformName, appOutDir, packager }) {
  if (electronPlatformName !== "darwin") return;
  const file = path.join(appOutDir, `${packager.appInfo.productFilename}.app`, "Contents", "Info.plist");
  await writeFile(file, withoutTransportException(await readFile(file, "utf8")));
}
