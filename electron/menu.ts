import { Menu, type MenuItemConstructorOptions } from "electron";
import { PRODUCT_NAME } from "./product.ts";

/** What the menu depends on, and what it does by itself. */
export interface MenuOptions {
  /** macOS has a menu of the program itself. */
  readonly isMac: boolean;
  /** Developer tools are offered only when run from the sources. */
  readonly isPackaged: boolean;
  /** Shows what the program is, with version and licences. */
  readonly onAbout: () => void;
}

/** The standard menus, by role, so that each system shows its own words and keys. No link leads out of the program. */
export function menuTemplate({ isMac, isPackaged, onAbout }: MenuOptions): MenuItemConstructorOptions[] {
  const about: MenuItemConstructorOptions = { label: `About ${PRODUCT_NAME}`, click: onAbout };
  const line: MenuItemConstructorOptions = { type: "separator" };
  const developer: MenuItemConstructorOptions[] = isPackaged
    ? []
    : [line, { role: "reload" }, { role: "toggleDevTools" }];
  const ofMac: MenuItemConstructorOptions = {
    label: PRODUCT_NAME,
    submenu: [
      about,
      line,
      { role: "services" },
      line,
      { role: "hide" },
      { role: "hideOthers" },
      { role: "unhide" },
      line,
      { role: "quit" },
    ],
  };
  const help: MenuItemConstructorOptions = { role: "help", submenu: [about] };
  return [
    ...(isMac ? [ofMac] : []),
    { role: "fileMenu" },
    { role: "editMenu" },
    {
      label: "View",
      submenu: [
        { role: "resetZoom" },
        { role: "zoomIn" },
        { role: "zoomOut" },
        line,
        { role: "togglefullscreen" },
        ...developer,
      ],
    },
    { role: "windowMenu" },
    ...(isMac ? [] : [help]),
  ];
}

/** Puts the menu in place. */
export function setMenu(options: MenuOptions): void {
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(options)));
}
