/** What runs in the page itself: passed to it as source, so nothing from outside may be used in here. */

/** What a page measured of itself, all in milliseconds of its own clock. */
export interface Probe {
  /** When each sound began to arrive at the microphone. */
  readonly onsets: number[];
  /** When each new point of the heard pitch was on the screen. */
  readonly shown: number[];
  /** When the words for a clipped microphone were on the screen. */
  readonly clippedShown: number[];
  /** From one picture to the next. */
  readonly frames: number[];
}

declare global {
  interface Window {
    probe: Probe;
  }
}

/**
 * Puts a microphone into the page that hears a reed-like tone of 0.3 s every 0.7 s, or clicks at full scale; and notes
 * when what it hears is on the screen: the picture after the one in which the page was changed.
 */
export function probePage(sound: "tones" | "clicks"): void {
  const probe: Probe = { onsets: [], shown: [], clippedShown: [], frames: [] };
  window.probe = probe;
  navigator.mediaDevices.getUserMedia = async () => {
    const context = new AudioContext();
    await context.resume();
    const out = context.createMediaStreamDestination();
    const gain = context.createGain();
    gain.gain.value = 0;
    const wave = context.createPeriodicWave(
      new Float32Array([0, 1, 0.6, 0.4, 0.3, 0.2, 0.1]),
      new Float32Array(7),
    );
    const tone = new OscillatorNode(context, { type: "custom", periodicWave: wave, frequency: 587.33 });
    tone.connect(gain).connect(out);
    tone.start();
    // The clock moves on in blocks: the earliest moment it is seen at a time is when that time is made.
    let ahead = Number.POSITIVE_INFINITY;
    const look = setInterval(() => {
      ahead = Math.min(ahead, performance.now() - 1000 * context.currentTime);
    }, 1);
    const begin = context.currentTime + 1;
    for (let n = 0; n < 60; n++) {
      const at = begin + 0.7 * n;
      const length = sound === "tones" ? 0.3 : 0.005;
      gain.gain.setValueAtTime(sound === "tones" ? 0.3 : 4, at);
      gain.gain.setValueAtTime(0, at + length);
    }
    setTimeout(() => {
      clearInterval(look);
      for (let n = 0; n < 60; n++) probe.onsets.push(ahead + 1000 * (begin + 0.7 * n));
    }, 900);
    return out.stream;
  };
  const watch = () => {
    const onScreen = (times: number[]) => requestAnimationFrame(() => times.push(performance.now()));
    new MutationObserver((changes) => {
      if (changes.some(({ addedNodes }) => [...addedNodes].some((one) => one instanceof SVGCircleElement)))
        onScreen(probe.shown);
      if (/clipping/.test(document.querySelector(".state-line")?.textContent ?? ""))
        onScreen(probe.clippedShown);
    }).observe(document.body, { childList: true, subtree: true, characterData: true });
    let before = performance.now();
    const frame = (now: number) => {
      probe.frames.push(now - before);
      before = now;
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  };
  document.addEventListener("DOMContentLoaded", watch);
}
