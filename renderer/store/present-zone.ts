/** Where the player is now: IANA name of the time zone, "UTC" where the system does not say. */
export const presentZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone ?? "UTC";
