import type { At } from "./drawing.ts";

/** What of a polygon lies between two heights (Sutherland and Hodgman 1974); none of it gives no corners. */
export function between(corners: readonly At[], top: number, bottom: number): readonly At[] {
  return oneSide(
    oneSide(corners, top, ({ y }) => y >= top),
    bottom,
    ({ y }) => y <= bottom,
  );
}

function oneSide(corners: readonly At[], height: number, isInside: (at: At) => boolean): readonly At[] {
  return corners.flatMap((corner, place): readonly At[] => {
    const before = corners.at(place - 1) ?? corner;
    const crossing =
      isInside(corner) === isInside(before)
        ? []
        : [
            {
              x: before.x + ((corner.x - before.x) * (height - before.y)) / (corner.y - before.y),
              y: height,
            },
          ];
    return isInside(corner) ? [...crossing, corner] : crossing;
  });
}
