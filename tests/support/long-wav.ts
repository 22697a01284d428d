/** A WAV of so many seconds, 8-bit mono at 8000 Hz: an hour in 29 MB. What it holds is of no matter. */
export function longWav(seconds: number): Uint8Array<ArrayBuffer> {
  const count = 8000 * seconds;
  const view = new DataView(new ArrayBuffer(44 + count));
  const text = (at: number, letters: string) =>
    [...letters].forEach((letter, i) => {
      view.setUint8(at + i, letter.charCodeAt(0));
    });
  text(0, "RIFF");
  view.setUint32(4, 36 + count, true);
  text(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, 8000, true);
  view.setUint32(28, 8000, true);
  view.setUint16(32, 1, true);
  view.setUint16(34, 8, true);
  text(36, "data");
  view.setUint32(40, count, true);
  return new Uint8Array(view.buffer);
}
