import { contextBridge, ipcRenderer } from "electron";
import type { ReedpathBridge, ShellAsk } from "./bridge.ts";
import { ASKED, CHANNELS } from "./channels.ts";

const bridge: ReedpathBridge = {
  saveFile: (suggestedName, bytes) => ipcRenderer.invoke(CHANNELS.saveFile, suggestedName, bytes),
  beginFile: (suggestedName) => ipcRenderer.invoke(CHANNELS.beginFile, suggestedName),
  beginBackup: (attempts) => ipcRenderer.invoke(CHANNELS.beginBackup, attempts),
  addToFile: (id, bytes) => ipcRenderer.invoke(CHANNELS.addToFile, id, bytes),
  finishFile: (id) => ipcRenderer.invoke(CHANNELS.finishFile, id),
  abandonFile: (id) => ipcRenderer.invoke(CHANNELS.abandonFile, id),
  backups: () => ipcRenderer.invoke(CHANNELS.backups),
  readBackup: (name, fromByte) => ipcRenderer.invoke(CHANNELS.readBackup, name, fromByte),
  openRecording: () => ipcRenderer.invoke(CHANNELS.openRecording),
  openedFiles: () => ipcRenderer.invoke(CHANNELS.openedFiles),
  readOpenedFile: (id, fromByte) => ipcRenderer.invoke(CHANNELS.readOpenedFile, id, fromByte),
  onAsked: (listener) => {
    // The event itself stays here: its sender would be a way to the main process.
    const hear = (_event: unknown, what: ShellAsk) => listener(what);
    ipcRenderer.on(ASKED, hear);
    return () => void ipcRenderer.removeListener(ASKED, hear);
  },
  version: () => ipcRenderer.invoke(CHANNELS.version),
  keepAwake: (awake) => ipcRenderer.invoke(CHANNELS.keepAwake, awake),
};

contextBridge.exposeInMainWorld("reedpath", bridge);
