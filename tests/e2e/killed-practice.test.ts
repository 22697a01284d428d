import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { chromiumPath, whyNoBrowser } from "./browser.ts";
import { killPractice } from "./killed-practice.ts";
import { buildStoreRoom, type StoreRoom } from "./store-room.ts";

let room: StoreRoom;
beforeAll(async () => {
  if (chromiumPath !== null) room = await buildStoreRoom();
}, 120_000);
afterAll(async () => room?.close());

describe.skipIf(chromiumPath === null)(`a browser killed in the middle of practice${whyNoBrowser}`, () => {
  test("has every attempt it said was kept, none it said was deleted, and sums that a recount agrees with", async () => {
    // `npm run kill` does the same at two hundred moments.
    const found = await killPractice(room, {
      seed: 3,
      moments: 6,
      aProfile: 3,
      beside: 1,
      onMoment: () => {},
    });
    expect(found).toHaveLength(6);
    for (const after of found) {
      expect(after.acknowledged).toBeGreaterThan(0);
      expect(after.attempts).toBe(after.there);
      expect({
        ...after,
        lost: after.lost,
        risen: after.risen,
        differences: after.differences,
      }).toMatchObject({
        lost: [],
        risen: [],
        differences: [],
      });
    }
  }, 300_000);
});
