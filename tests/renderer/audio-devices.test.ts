import { describe, expect, test } from "vitest";
import {
  findDevice,
  realDevices,
  type SoundDevice,
  seemsWireless,
  systemDevice,
} from "../../renderer/audio/sound-device.ts";
import { type DeviceWorld, SoundDevices } from "../../renderer/audio/sound-devices.ts";

const device = (id: string, name: string, group = `body of ${name}`): SoundDevice => ({ id, name, group });

const DESK = device("1", "Desk microphone");
const HEADSET = device("2", "Headset");

describe("a chosen device", () => {
  test("is found by its mark, whatever it is called now", () => {
    expect(findDevice(DESK, [HEADSET, { ...DESK, name: "Tischmikrofon" }])?.id).toBe("1");
  });

  test("is found by its name where marks are new on each visit, and of two alike by its body", () => {
    const left = device("8", "Headset", "left socket");
    const right = device("9", "Headset", "right socket");
    expect(findDevice({ ...HEADSET, group: "right socket" }, [DESK, left, right])).toBe(right);
    expect(findDevice({ ...HEADSET, group: "old" }, [DESK, left, right])).toBe(left);
  });

  test("is not taken for another while it is away, nor while names are not told", () => {
    expect(findDevice(HEADSET, [DESK])).toBeNull();
    expect(findDevice(device("7", ""), [device("", "")])).toBeNull();
  });
});

test("the system's own device is the one its alias shares a body with; aliases cannot be chosen", () => {
  const listed = [device("default", "Default", HEADSET.group), device("communications", "x"), DESK, HEADSET];
  expect(systemDevice(listed)).toBe(HEADSET);
  expect(realDevices(listed)).toEqual([DESK, HEADSET]);
  expect(systemDevice([DESK])).toBe(DESK);
  expect(systemDevice([])).toBeNull();
});

test.each([
  ["Headset (Bluetooth)", 0, true],
  ["Wireless speaker", 0, true],
  ["Hands-Free AG Audio", 0, true],
  ["My earbuds", 0, true],
  ["USB headphones", 0.03, false], // wired: 20 to 100 ms [M]
  ["Headphones", 0.18, true], // wireless: 150 to 300 ms [M]
  ["Budstone speakers", 0, false],
])("%s, heard after %d s: wireless is %s", (name, latency, wireless) => {
  expect(seemsWireless(name, latency)).toBe(wireless);
});

/** A system whose devices come and go. */
class PretendSystem {
  readonly sent: string[] = [];
  plugged: readonly { readonly kind: MediaDeviceKind; readonly device: SoundDevice }[] = [];
  private change = () => {};

  world(canChoose = true): DeviceWorld {
    return {
      list: async () =>
        this.plugged.map(({ kind, device: { id, name, group } }) => ({
          kind,
          deviceId: id,
          label: name,
          groupId: group,
          toJSON: () => ({}),
        })),
      onChange: (listener) => {
        this.change = listener;
      },
      sendTo: canChoose
        ? async (id) => {
            if (id === "broken") throw new Error("it is in use");
            this.sent.push(id);
          }
        : null,
    };
  }

  async plug(...plugged: PretendSystem["plugged"]): Promise<void> {
    this.plugged = plugged;
    this.change();
    await new Promise((resolve) => setTimeout(resolve, 0));
  }
}

const input = (of: SoundDevice) => ({ kind: "audioinput" as const, device: of });
const output = (of: SoundDevice) => ({ kind: "audiooutput" as const, device: of });
const SPEAKER = device("s", "Loudspeaker");
const PHONES = device("p", "Headphones");

describe("the devices in use", () => {
  test("are the system's own until others are chosen, and the chosen ones are told to the browser", async () => {
    const system = new PretendSystem();
    const devices = new SoundDevices(system.world());
    await system.plug(input(DESK), input(HEADSET), output(SPEAKER), output(PHONES));
    expect(devices.getState()).toMatchObject({
      input: { used: DESK, isAway: false, chosen: null },
      output: { used: SPEAKER, isAway: false },
      canChooseOutput: true,
    });
    await devices.choose({ input: HEADSET, output: PHONES });
    expect(devices.getState()).toMatchObject({ input: { used: HEADSET }, output: { used: PHONES } });
    expect(system.sent).toEqual(["p"]);
    await devices.choose({ input: null, output: null });
    expect(system.sent).toEqual(["p", ""]);
  });

  test("fall back when one is unplugged, say so, and come back with it under a new mark", async () => {
    const system = new PretendSystem();
    const devices = new SoundDevices(system.world());
    let told = 0;
    devices.subscribe(() => told++);
    await system.plug(input(DESK), input(HEADSET), output(SPEAKER), output(PHONES));
    await devices.choose({ input: HEADSET, output: PHONES });
    await system.plug(input(DESK), output(SPEAKER));
    expect(devices.getState()).toMatchObject({
      input: { used: DESK, isAway: true, chosen: HEADSET },
      output: { used: SPEAKER, isAway: true, chosen: PHONES },
    });
    expect(system.sent.at(-1)).toBe("");
    const before = told;
    await system.plug(input(DESK), input({ ...HEADSET, id: "new" }), output({ ...PHONES, id: "newer" }));
    expect(devices.getState()).toMatchObject({
      input: { used: { id: "new" }, isAway: false },
      output: { used: { id: "newer" }, isAway: false },
    });
    expect(system.sent.at(-1)).toBe("newer");
    expect(told).toBeGreaterThan(before);
  });

  test("are not called away while the browser tells no names", async () => {
    const system = new PretendSystem();
    const devices = new SoundDevices(system.world());
    await devices.choose({ input: HEADSET, output: null });
    await system.plug(input(device("", "", "")));
    expect(devices.getState().input.isAway).toBe(false);
  });

  test("go out by the system's own where the browser offers no choice, whatever was chosen elsewhere", async () => {
    const system = new PretendSystem();
    const devices = new SoundDevices(system.world(false));
    await devices.choose({ input: null, output: PHONES });
    await system.plug(output(SPEAKER), output(PHONES));
    expect(devices.getState()).toMatchObject({ canChooseOutput: false, output: { used: SPEAKER } });
    expect(system.sent).toEqual([]);
  });

  test("say in one sentence that an output cannot be taken", async () => {
    const system = new PretendSystem();
    const devices = new SoundDevices(system.world());
    await system.plug(output(SPEAKER), output(device("broken", "Old headphones")));
    await devices.choose({ input: null, output: device("broken", "Old headphones") });
    expect(devices.getState().trouble).toBe("Old headphones could not be used (it is in use).");
  });
});
