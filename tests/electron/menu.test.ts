import type { MenuItemConstructorOptions } from "electron";
import { describe, expect, test, vi } from "vitest";
import * as electron from "./electron-double.ts";

vi.mock("electron", () => import("./electron-double.ts"));

const onAbout = vi.fn();
const { menuTemplate, setMenu } = await import("../../electron/menu.ts");

function everyItem(items: MenuItemConstructorOptions[]): MenuItemConstructorOptions[] {
  return items.flatMap((item) => [item, ...(Array.isArray(item.submenu) ? everyItem(item.submenu) : [])]);
}
const roles = (items: MenuItemConstructorOptions[]) => items.map((item) => item.role ?? item.label);

describe("the menu", () => {
  test("has the standard menus, and on macOS the program's own instead of the one for help", () => {
    const standard = ["fileMenu", "editMenu", "View", "windowMenu"];
    expect(roles(menuTemplate({ isMac: false, isPackaged: true, onAbout }))).toEqual([...standard, "help"]);
    expect(roles(menuTemplate({ isMac: true, isPackaged: true, onAbout }))).toEqual([
      "Reedpath",
      ...standard,
    ]);
  });

  test.each([true, false])(
    "every entry is a role, a line or the one about the program (macOS: %s)",
    (isMac) => {
      const items = everyItem(menuTemplate({ isMac, isPackaged: false, onAbout }));
      expect(items.length).toBeGreaterThan(8);
      const own = items.filter((item) => !item.role && item.type !== "separator" && !item.submenu);
      expect(own).toEqual([{ label: "About Reedpath", click: onAbout }]);
      expect(items.filter((item) => item.click !== undefined)).toEqual(own);
    },
  );

  test("developer tools are offered when run from the sources only", () => {
    const tools = (isPackaged: boolean) =>
      roles(everyItem(menuTemplate({ isMac: false, isPackaged, onAbout }))).includes("toggleDevTools");
    expect([tools(true), tools(false)]).toEqual([false, true]);
  });

  test("the template is what is put in place", () => {
    const options = { isMac: false, isPackaged: true, onAbout };
    setMenu(options);
    expect(electron.Menu.setApplicationMenu).toHaveBeenCalledWith(menuTemplate(options));
  });
});
