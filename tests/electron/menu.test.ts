import type { MenuItemConstructorOptions } from "electron";
import { describe, expect, test, vi } from "vitest";
import * as electron from "./electron-double.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const { menuTemplate, setMenu } = await import("../../electron/menu.ts");

function everyItem(items: MenuItemConstructorOptions[]): MenuItemConstructorOptions[] {
  return items.flatMap((item) => [item, ...(Array.isArray(item.submenu) ? everyItem(item.submenu) : [])]);
}
const roles = (items: MenuItemConstructorOptions[]) => items.map((item) => item.role ?? item.label);

describe("the menu", () => {
  test("has the standard menus, and on macOS the program's own", () => {
    const standard = ["fileMenu", "editMenu", "View", "windowMenu"];
    expect(roles(menuTemplate({ isMac: false, isPackaged: true }))).toEqual(standard);
    expect(roles(menuTemplate({ isMac: true, isPackaged: true }))).toEqual(["appMenu", ...standard]);
  });

  test("every entry is a role or a line: nothing leads out of the program", () => {
    const items = everyItem(menuTemplate({ isMac: true, isPackaged: false }));
    expect(items.length).toBeGreaterThan(8);
    expect(items.filter((item) => item.click !== undefined)).toEqual([]);
    expect(items.filter((item) => !item.role && item.type !== "separator" && !item.submenu)).toEqual([]);
  });

  test("developer tools are offered when run from the sources only", () => {
    const tools = (isPackaged: boolean) =>
      roles(everyItem(menuTemplate({ isMac: false, isPackaged }))).includes("toggleDevTools");
    expect([tools(true), tools(false)]).toEqual([false, true]);
  });

  test("the template is what is put in place", () => {
    const options = { isMac: false, isPackaged: true };
    setMenu(options);
    expect(electron.Menu.setApplicationMenu).toHaveBeenCalledWith(menuTemplate(options));
  });
});
