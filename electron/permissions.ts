import { type Session, systemPreferences } from "electron";
import { isAppUrl } from "./product.ts";

/**
 * The check comes before the question and at first names no media type at all; insisting on `audio` would make the
 * microphone fail although the system allows it.
 */
const CHECKED_MEDIA_TYPES: readonly (string | undefined)[] = [undefined, "unknown", "audio"];

/**
 * What our page may do besides: choose which loudspeaker or headphones sound goes out by, and put marks on the clipboard
 * when the player presses the button for it. Reading the clipboard is another permission.
 */
const ALLOWED: readonly string[] = ["speaker-selection", "clipboard-sanitized-write"];

/**
 * Asks the system for the microphone. On macOS a missing permission would otherwise give silence instead of an error;
 * elsewhere the system asks or refuses by itself.
 */
async function systemAllowsMicrophone(platform: NodeJS.Platform): Promise<boolean> {
  if (platform !== "darwin") return true;
  return systemPreferences.askForMediaAccess("microphone");
}

/** The microphone and what is listed above for our own page, and nothing else for anyone: Electron by itself grants every permission. */
export function guardPermissions(session: Session, platform: NodeJS.Platform = process.platform): void {
  session.setPermissionCheckHandler(
    (_contents, permission, requestingOrigin, details) =>
      isAppUrl(requestingOrigin) &&
      (ALLOWED.includes(permission) ||
        (permission === "media" && CHECKED_MEDIA_TYPES.includes(details.mediaType))),
  );
  session.setPermissionRequestHandler((_contents, permission, callback, details) => {
    const mediaTypes = "mediaTypes" in details ? (details.mediaTypes ?? []) : [];
    const onlySound = mediaTypes.length > 0 && mediaTypes.every((type) => type === "audio");
    if (ALLOWED.includes(permission)) return callback(isAppUrl(details.requestingUrl));
    if (permission !== "media" || !isAppUrl(details.requestingUrl) || !onlySound) return callback(false);
    systemAllowsMicrophone(platform).then(callback, () => callback(false));
  });
  session.setDevicePermissionHandler(() => false);
}
