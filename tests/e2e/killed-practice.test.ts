import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { chromiumPath, whyNoBrowser } from "./browser.ts";
import { KILLS_A_PROFILE, soakProfile } from "./soak.ts";
import { buildStoreRoom, type StoreRoom } from "./store-room.ts";

let room: StoreRoom;
beforeAll(async () => {
  if (chromiumPath !== null) room = await buildStoreRoom();
}, 120_000);
afterAll(async () => room?.close());

describe.skipIf(chromiumPath === null)(`a browser killed twenty times${whyNoBrowser}`, () => {
  test("has every attempt and every piece of a running take it said was kept, to the bit, nothing it said was gone, sums a recount agrees with, and a second copy of it all, also where logs were left torn", async () => {
    // `npm run soak` does the same three hundred times.
    const profiles = [2, 3].map((profile) => soakProfile(room, { seed: 3, profile }, () => {}));
    const found = (await Promise.all(profiles)).flat();
    expect(found).toHaveLength(2 * KILLS_A_PROFILE);
    expect(new Set(found.map(({ during }) => during))).toEqual(
      new Set(["practice", "bringing in", "upgrade"]),
    );
    expect(found.some(({ running }) => running > 0)).toBe(true);
    expect(new Set(found.flatMap(({ torn }) => torn))).toEqual(new Set(["history", "second copy"]));
    expect(found.some(({ diedOpening }) => diedOpening)).toBe(true);
    for (const after of found) {
      expect(after.kept + after.running).toBeGreaterThan(0);
      expect(after.attempts).toBe(after.there);
      expect(after).toMatchObject({ lost: [], risen: [], changed: [], differences: [] });
    }
  }, 300_000);
});
