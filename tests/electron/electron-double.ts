import { EventEmitter } from "node:events";
import { vi } from "vitest";

/**
 * Stands in for Electron, of which there is no program on a test machine: it writes down what the shell asks for.
 * It proves what we ask of Electron, not what Electron then does.
 */

type Listener = (...args: never[]) => unknown;

/** Everything the shell asked for, in order, by name. */
export const order: string[] = [];

const note = <Result>(name: string, result: Result) =>
  vi.fn((..._args: unknown[]): Result => {
    order.push(name);
    return result;
  });

export const webContents = Object.assign(new EventEmitter(), {
  setWindowOpenHandler: vi.fn((_handler: () => unknown) => {}),
  setWebRTCIPHandlingPolicy: vi.fn((_policy: string) => {}),
  send: vi.fn((_channel: string, ..._args: unknown[]) => {}),
});

export class BrowserWindow extends EventEmitter {
  static opened: BrowserWindow[] = [];
  static getAllWindows = () => BrowserWindow.opened;
  static fromWebContents = (contents: unknown) =>
    BrowserWindow.opened.find((window) => window.webContents === contents) ?? null;
  webContents = webContents;
  minimized = false;
  loadURL = vi.fn((_url: string) => Promise.resolve());
  show = vi.fn();
  focus = vi.fn();
  restore = vi.fn();
  isMinimized = () => this.minimized;
  maximize = vi.fn();
  setFullScreen = vi.fn();
  bounds = { x: 0, y: 0, width: 0, height: 0 };
  maximised = false;
  fullScreen = false;
  getNormalBounds = () => this.bounds;
  isMaximized = () => this.maximised;
  isFullScreen = () => this.fullScreen;
  readonly options: Electron.BrowserWindowConstructorOptions;
  constructor(options: Electron.BrowserWindowConstructorOptions) {
    super();
    order.push("BrowserWindow");
    this.options = options;
    BrowserWindow.opened.push(this);
  }
}

export const app = Object.assign(new EventEmitter(), {
  isPackaged: false,
  requestSingleInstanceLock: vi.fn((_handedOver?: Record<string, unknown>) => true),
  isReady: vi.fn(() => true),
  getAppPath: vi.fn(() => "/program"),
  quit: vi.fn(),
  enableSandbox: note("enableSandbox", undefined),
  whenReady: note("whenReady", Promise.resolve()),
  getVersion: () => "1.2.3",
  getPath: vi.fn((_name: string) => "/nowhere"),
  commandLine: { appendSwitch: note("appendSwitch", undefined) },
});

const display = { id: 1, workArea: { x: 0, y: 0, width: 1920, height: 1040 } };
export const screen = {
  getPrimaryDisplay: vi.fn(() => display),
  getAllDisplays: vi.fn(() => [display]),
};

export const session = {
  defaultSession: {
    setPermissionCheckHandler: note("setPermissionCheckHandler", undefined),
    setPermissionRequestHandler: note("setPermissionRequestHandler", undefined),
    setDevicePermissionHandler: note("setDevicePermissionHandler", undefined),
    webRequest: { onBeforeRequest: note("onBeforeRequest", undefined) },
  },
};

export const protocol = {
  registerSchemesAsPrivileged: note("registerSchemesAsPrivileged", undefined),
  handle: note("handle", undefined),
};

/** The main process' end of each channel. */
export const handlers = new Map<string, Listener>();
export const ipcMain = {
  handle: (channel: string, listener: Listener) => void handlers.set(channel, listener),
};

export const ipcRenderer = Object.assign(new EventEmitter(), {
  invoke: vi.fn((..._args: unknown[]) => Promise.resolve("answer")),
});
export const contextBridge = { exposeInMainWorld: vi.fn((_name: string, _api: unknown) => {}) };

export const dialog = {
  showSaveDialog: vi.fn((..._args: unknown[]) => Promise.resolve({ canceled: true, filePath: "" })),
  showOpenDialog: vi.fn((..._args: unknown[]) =>
    Promise.resolve({ canceled: true, filePaths: [] as string[] }),
  ),
};

export const powerSaveBlocker = { start: vi.fn((_kind: string) => 7), stop: vi.fn((_id: number) => true) };
export const systemPreferences = { askForMediaAccess: vi.fn((_kind: string) => Promise.resolve(true)) };

export const Menu = {
  buildFromTemplate: vi.fn((template: unknown) => template),
  setApplicationMenu: note("setApplicationMenu", undefined),
};

/** Forgets everything written down; replies set by a test stay until it changes them. */
export function forget(): void {
  order.length = 0;
  BrowserWindow.opened = [];
  handlers.clear();
  app.removeAllListeners();
  webContents.removeAllListeners();
  ipcRenderer.removeAllListeners();
  vi.clearAllMocks();
}
