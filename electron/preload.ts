import { contextBridge, ipcRenderer } from "electron";
import type { ReedpathBridge } from "./bridge.ts";
import { CHANNELS } from "./channels.ts";

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
  version: () => ipcRenderer.invoke(CHANNELS.version),
  keepAwake: (awake) => ipcRenderer.invoke(CHANNELS.keepAwake, awake),
};

contextBridge.exposeInMainWorld("reedpath", bridge);
