import { productName, version } from "../package.json";

export const PRODUCT_NAME: string = productName;
export const PRODUCT_VERSION: string = version;

/**
 * The origin is the database: a player's history belongs to scheme, host and port together, so changing any of these
 * three literals opens a new, empty store.
 */
export const APP_SCHEME = "app";
export const APP_HOST = "reedpath";
export const LOOPBACK_PORT = 47815;

/** First page of the desktop window. */
export const APP_URL = `${APP_SCHEME}://${APP_HOST}/index.html`;

/**
 * Whether an address belongs to the desktop window. Compares scheme and host, because Node answers `'null'` as the
 * origin of every scheme it does not know.
 */
export function isAppUrl(address: string): boolean {
  if (!URL.canParse(address)) return false;
  const url = new URL(address);
  return (
    url.protocol === `${APP_SCHEME}:` && url.host === APP_HOST && url.username === "" && url.password === ""
  );
}
