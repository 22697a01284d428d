/** Names of the messages between preload script and main process, one for each verb of the bridge. */
export const CHANNELS = {
  saveFile: "reedpath:save-file",
  openRecording: "reedpath:open-recording",
  version: "reedpath:version",
  keepAwake: "reedpath:keep-awake",
} as const;
