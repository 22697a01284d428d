import { Menu, type MenuItemConstructorOptions } from "electron";

/**
 * The standard menus, by role, so that each system shows its own words and keys. No link leads out of the program.
 *
 * @param options.isMac      macOS has a menu of the program itself
 * @param options.isPackaged developer tools are offered only when run from the sources
 */
export function menuTemplate(options: {
  readonly isMac: boolean;
  readonly isPackaged: boolean;
}): MenuItemConstructorOptions[] {
  const developer: MenuItemConstructorOptions[] = options.isPackaged
    ? []
    : [{ type: "separator" }, { role: "reload" }, { role: "toggleDevTools" }];
  return [
    ...(options.isMac ? [{ role: "appMenu" } as const] : []),
    { role: "fileMenu" },
    { role: "editMenu" },
    {
      label: "View",
      submenu: [
        { role: "resetZoom" },
        { role: "zoomIn" },
        { role: "zoomOut" },
        { type: "separator" },
        { role: "togglefullscreen" },
        ...developer,
      ],
    },
    { role: "windowMenu" },
  ];
}

/** Puts the menu in place. */
export function setMenu(options: { readonly isMac: boolean; readonly isPackaged: boolean }): void {
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(options)));
}
