import type { Page } from "playwright-core";

/** Sound the page handed to its loudspeaker as a recording: what it would be heard as. */
export interface Sounded {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** Has the page remember every recording it plays from now on, and still play it. */
export async function rememberSounds(page: Page): Promise<void> {
  await page.evaluate(() => {
    const sounds: { samples: Float32Array; sampleRateHz: number }[] = [];
    Object.assign(window, { soundedHere: sounds });
    const start = AudioBufferSourceNode.prototype.start;
    AudioBufferSourceNode.prototype.start = function (when?: number, offset = 0, duration = Infinity) {
      const { buffer } = this;
      if (buffer !== null) {
        const { sampleRate } = buffer;
        const part = buffer
          .getChannelData(0)
          .slice(offset * sampleRate, Math.min(buffer.length, (offset + duration) * sampleRate));
        sounds.push({ samples: part, sampleRateHz: sampleRate });
      }
      if (Number.isFinite(duration)) start.call(this, when, offset, duration);
      else start.call(this, when, offset);
    };
  });
}

/** The recordings played since the last call. */
export async function soundsSince(page: Page): Promise<readonly Sounded[]> {
  const packed = await page.evaluate(() => {
    const { soundedHere } = window as unknown as {
      soundedHere: { samples: Float32Array; sampleRateHz: number }[];
    };
    return soundedHere.splice(0).map(({ samples, sampleRateHz }) => {
      const bytes = new Uint8Array(samples.buffer);
      let text = "";
      for (let at = 0; at < bytes.length; at += 8192)
        text += String.fromCharCode(...bytes.subarray(at, at + 8192));
      return { base64: btoa(text), sampleRateHz };
    });
  });
  return packed.map(({ base64, sampleRateHz }) => ({
    samples: new Float32Array(Uint8Array.from(Buffer.from(base64, "base64")).buffer),
    sampleRateHz,
  }));
}
