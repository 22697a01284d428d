import { contextBridge, ipcRenderer } from "electron";
import type { ReedpathBridge } from "./bridge.ts";
import { CHANNELS } from "./channels.ts";

const bridge: ReedpathBridge = {
  saveFile: (suggestedName, bytes) => ipcRenderer.invoke(CHANNELS.saveFile, suggestedName, bytes),
  openRecording: () => ipcRenderer.invoke(CHANNELS.openRecording),
  version: () => ipcRenderer.invoke(CHANNELS.version),
  keepAwake: (awake) => ipcRenderer.invoke(CHANNELS.keepAwake, awake),
};

contextBridge.exposeInMainWorld("reedpath", bridge);
