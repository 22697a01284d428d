/** A rectangle of the screen in points, as Electron measures. */
export interface Area {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where and how the window stood when it was closed. */
export interface WindowPlace extends Area {
  readonly isMaximised: boolean;
  readonly isFullScreen: boolean;
}

/** How large the window is the first time, and the least it can be. */
export const FIRST_SIZE = { width: 1280, height: 860 } as const;
export const LEAST_SIZE = { width: 800, height: 600 } as const;

/** So much of the window's top has to be in sight, or it could not be taken hold of. */
const GRIP = { width: 120, height: 40 } as const;

/** No screen is as large; a number beyond comes from a damaged file. */
const MOST = 100_000;

/** What a file says of the window's place; null where it says nothing usable. */
export function readPlace(text: string): WindowPlace | null {
  let said: unknown;
  try {
    said = JSON.parse(text);
  } catch {
    return null;
  }
  if (typeof said !== "object" || said === null) return null;
  const { x, y, width, height, isMaximised, isFullScreen } = said as Record<string, unknown>;
  if (
    ![x, y, width, height].every(
      (one) => typeof one === "number" && Number.isInteger(one) && Math.abs(one) < MOST,
    )
  )
    return null;
  const area = { x, y, width, height } as Area;
  if (area.width <= 0 || area.height <= 0) return null;
  return { ...area, isMaximised: isMaximised === true, isFullScreen: isFullScreen === true };
}

/**
 * Where the window opens: where it stood, or in the middle of the first screen where that place is gone with its screen.
 *
 * @param last   null for a first start
 * @param screens what can be used of each screen, the main one first
 * @returns a size that fits the screen; x and y only where the place is to be kept
 */
export function placeOf(
  last: WindowPlace | null,
  screens: readonly Area[],
): Partial<Area> & typeof FIRST_SIZE {
  const [main] = screens;
  if (last === null || main === undefined) return { ...fitting(FIRST_SIZE, main) };
  const screen = screens.find((one) => isInReach(last, one));
  const size = fitting(last, screen ?? main);
  return screen === undefined ? size : { x: last.x, y: last.y, ...size };
}

type Size = Pick<Area, "width" | "height">;

const fitting = (size: Size, screen: Size | undefined) =>
  ({
    width: Math.max(Math.min(size.width, screen?.width ?? size.width), LEAST_SIZE.width),
    height: Math.max(Math.min(size.height, screen?.height ?? size.height), LEAST_SIZE.height),
  }) as typeof FIRST_SIZE;

/** Whether enough of the window's top edge lies on a screen to take hold of it. */
function isInReach(place: Area, screen: Area): boolean {
  const across = Math.min(place.x + place.width, screen.x + screen.width) - Math.max(place.x, screen.x);
  const isTopOn = place.y >= screen.y && place.y + GRIP.height <= screen.y + screen.height;
  return isTopOn && across >= Math.min(GRIP.width, place.width);
}
