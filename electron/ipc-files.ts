import path from "node:path";
import { app, ipcMain } from "electron";
import { Backups, isBackupName } from "./backups.ts";
import type { BackupsResult, BeginResult, PieceResult } from "./bridge.ts";
import { CHANNELS } from "./channels.ts";
import { askWhereToSave, causeOf } from "./files.ts";
import { GrowingFiles } from "./growing-files.ts";
import { checkWhole, isPlainFileName, refuseExtra, senderWindow } from "./ipc-checks.ts";
import { PartFile } from "./part-file.ts";

const LARGEST_PIECE_BYTES = 8 * 1024 * 1024;
const MOST_ATTEMPTS = 999_999_999;
const A_BACKUP = "The backup";

const notSaved = (name: string, error: unknown) => `${name} was not saved: ${causeOf(error)}.`;

const growing = new GrowingFiles(notSaved);

/** Leaves nothing of files that were begun and are not finished. */
export const abandonFiles = (): Promise<void> => growing.abandonAll();

/** Answers the verbs about files that grow, and about backups. */
export function answerFileVerbs(): void {
  const backups = new Backups(path.join(app.getPath("userData"), "backups"));
  answerBeginnings(backups);
  ipcMain.handle(CHANNELS.addToFile, (event, id: unknown, bytes: unknown, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("addToFile", rest);
    checkWhole("addToFile", "the number", id, Number.MAX_SAFE_INTEGER);
    if (!(bytes instanceof Uint8Array)) throw new Error("addToFile: the content is not a Uint8Array.");
    if (bytes.byteLength > LARGEST_PIECE_BYTES) throw new Error("addToFile: the content is above 8 MiB.");
    return growing.add(id, bytes);
  });
  ipcMain.handle(CHANNELS.finishFile, (event, id: unknown, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("finishFile", rest);
    checkWhole("finishFile", "the number", id, Number.MAX_SAFE_INTEGER);
    return growing.finish(id);
  });
  ipcMain.handle(CHANNELS.abandonFile, (event, id: unknown, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("abandonFile", rest);
    checkWhole("abandonFile", "the number", id, Number.MAX_SAFE_INTEGER);
    return growing.abandon(id);
  });
  ipcMain.handle(CHANNELS.backups, (event, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("backups", rest);
    return listed(backups);
  });
  ipcMain.handle(CHANNELS.readBackup, (event, name: unknown, fromByte: unknown, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("readBackup", rest);
    if (!isBackupName(name)) throw new Error("readBackup: the name is not one of a backup.");
    checkWhole("readBackup", "the place", fromByte, Number.MAX_SAFE_INTEGER);
    return piece(backups, name, fromByte);
  });
}

function answerBeginnings(backups: Backups): void {
  ipcMain.handle(CHANNELS.beginFile, async (event, suggestedName: unknown, ...rest: unknown[]) => {
    const window = senderWindow(event);
    refuseExtra("beginFile", rest);
    if (!isPlainFileName(suggestedName)) throw new Error("beginFile: the name is not a plain file name.");
    growing.refuseTooMany();
    const file = await askWhereToSave(window, suggestedName);
    return file === null ? { kind: "cancelled" } : beginFile(file);
  });
  ipcMain.handle(CHANNELS.beginBackup, (event, attempts: unknown, ...rest: unknown[]) => {
    senderWindow(event);
    refuseExtra("beginBackup", rest);
    checkWhole("beginBackup", "the number of attempts", attempts, MOST_ATTEMPTS);
    growing.refuseTooMany();
    return beginBackup(backups, attempts);
  });
}

async function beginFile(file: string): Promise<BeginResult> {
  const name = path.basename(file);
  try {
    const part = await PartFile.begin(file);
    return growing.begin(part, { name, finish: () => part.finish(), abandon: () => part.abandon() });
  } catch (error) {
    return { kind: "failed", reason: notSaved(name, error) };
  }
}

async function beginBackup(backups: Backups, attempts: number): Promise<BeginResult> {
  try {
    const part = await backups.begin(attempts);
    const ending = { finish: () => backups.finish(part), abandon: () => backups.abandon(part) };
    return growing.begin(part, { name: A_BACKUP, ...ending });
  } catch (error) {
    return { kind: "failed", reason: notSaved(A_BACKUP, error) };
  }
}

async function listed(backups: Backups): Promise<BackupsResult> {
  try {
    return { kind: "backups", backups: await backups.list() };
  } catch (error) {
    return { kind: "failed", reason: `The backups cannot be listed: ${causeOf(error)}.` };
  }
}

async function piece(backups: Backups, name: string, fromByte: number): Promise<PieceResult> {
  try {
    return { kind: "read", bytes: await backups.read(name, fromByte) };
  } catch (error) {
    return { kind: "failed", reason: `${A_BACKUP} was not read: ${causeOf(error)}.` };
  }
}
