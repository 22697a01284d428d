/** Names of the messages between preload script and main process, one for each verb of the bridge. */
export const CHANNELS = {
  saveFile: "reedpath:save-file",
  beginFile: "reedpath:begin-file",
  beginBackup: "reedpath:begin-backup",
  addToFile: "reedpath:add-to-file",
  finishFile: "reedpath:finish-file",
  abandonFile: "reedpath:abandon-file",
  backups: "reedpath:backups",
  readBackup: "reedpath:read-backup",
  openRecording: "reedpath:open-recording",
  openedFiles: "reedpath:opened-files",
  readOpenedFile: "reedpath:read-opened-file",
  version: "reedpath:version",
  keepAwake: "reedpath:keep-awake",
} as const;

/** The one message the other way: a word of what is wanted of the page. */
export const ASKED = "reedpath:asked";
