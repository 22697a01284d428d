import { type Session, systemPreferences } from "electron";
import { isAppUrl } from "./product.ts";

/**
 * The check comes before the question and at first names no media type at all; insisting on `audio` would make the
 * microphone fail although the system allows it.
 */
const CHECKED_MEDIA_TYPES: readonly (string | undefined)[] = [undefined, "unknown", "audio"];

/** Which loudspeaker or headphones sound goes out by. */
const CHOOSE_OUTPUT = "speaker-selection";

/**
 * Asks the system for the microphone. On macOS a missing permission would otherwise give silence instead of an error;
 * elsewhere the system asks or refuses by itself.
 */
async function systemAllowsMicrophone(platform: NodeJS.Platform): Promise<boolean> {
  if (platform !== "darwin") return true;
  return systemPreferences.askForMediaAccess("microphone");
}

/** The microphone and the choice of loudspeaker for our own page, and nothing else for anyone: Electron by itself grants every permission. */
export function guardPermissions(session: Session, platform: NodeJS.Platform = process.platform): void {
  session.setPermissionCheckHandler(
    (_contents, permission, requestingOrigin, details) =>
      isAppUrl(requestingOrigin) &&
      (permission === CHOOSE_OUTPUT ||
        (permission === "media" && CHECKED_MEDIA_TYPES.includes(details.mediaType))),
  );
  session.setPermissionRequestHandler((_contents, permission, callback, details) => {
    const mediaTypes = "mediaTypes" in details ? (details.mediaTypes ?? []) : [];
    const onlySound = mediaTypes.length > 0 && mediaTypes.every((type) => type === "audio");
    if (permission === CHOOSE_OUTPUT) return callback(isAppUrl(details.requestingUrl));
    if (permission !== "media" || !isAppUrl(details.requestingUrl) || !onlySound) return callback(false);
    systemAllowsMicrophone(platform).then(callback, () => callback(false));
  });
  session.setDevicePermissionHandler(() => false);
}
