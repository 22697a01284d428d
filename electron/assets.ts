import { readFile, realpath, stat } from "node:fs/promises";
import path from "node:path";

/** MIME types by file ending. Module, worker and worklet scripts do not start with any other type than JavaScript's. */
const MEDIA_TYPES: Readonly<Record<string, string>> = {
  ".abc": "text/plain; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".ico": "image/x-icon",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".mjs": "text/javascript; charset=utf-8",
  ".musicxml": "application/xml; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
  ".wav": "audio/wav",
  ".webmanifest": "application/manifest+json; charset=utf-8",
  ".woff2": "font/woff2",
};

/** @returns the MIME type for a file name; bytes without meaning for an ending we do not ship */
export function mediaType(fileName: string): string {
  return MEDIA_TYPES[path.extname(fileName).toLowerCase()] ?? "application/octet-stream";
}

/**
 * Finds the file a request path names.
 *
 * @param root        absolute folder that holds the built window
 * @param requestPath the path as sent, still percent-encoded, without query; "/" names index.html
 * @returns an absolute path inside root, or null when the path is malformed or leads outside
 */
export function assetPath(root: string, requestPath: string): string | null {
  if (!requestPath.startsWith("/")) return null;
  let decoded: string;
  try {
    decoded = decodeURIComponent(requestPath);
  } catch {
    return null;
  }
  // A backslash or a colon is a folder, a drive or a hidden stream on Windows; NUL ends a name early.
  if (/[\\\0:]/.test(decoded)) return null;
  const file = path.resolve(root, `.${decoded === "/" ? "/index.html" : decoded}`);
  return isInside(root, file) ? file : null;
}

function isInside(root: string, file: string): boolean {
  const inside = path.relative(root, file);
  return inside !== "" && inside.split(path.sep)[0] !== ".." && !path.isAbsolute(inside);
}

/** One file of the built window. */
export interface Asset {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly type: string;
}

/**
 * Reads the file a request path names.
 *
 * @returns null when there is none: malformed path, outside root (a link may lead there), missing, or a folder
 */
export async function readAsset(root: string, requestPath: string): Promise<Asset | null> {
  const file = assetPath(root, requestPath);
  if (file === null) return null;
  try {
    if (!isInside(await realpath(root), await realpath(file))) return null;
    if (!(await stat(file)).isFile()) return null;
    return { bytes: new Uint8Array(await readFile(file)), type: mediaType(file) };
  } catch {
    return null;
  }
}
