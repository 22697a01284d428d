import { cleanup, fireEvent, render, screen } from "@testing-library/react";
import { afterEach, describe, expect, test, vi } from "vitest";
import { HearButton } from "../../renderer/drills/hear-button.tsx";
import { exerciseOf } from "../support/drills.ts";

afterEach(cleanup);

const exercise = exerciseOf();
const button = () => screen.getByRole("button");

describe("hearing a drill", () => {
  test("that cannot be heard lets one ask again", async () => {
    const onHear = vi.fn(() => Promise.reject(new Error("no loudspeaker")));
    render(<HearButton exercise={exercise} onHear={onHear} />);
    fireEvent.click(button());
    await vi.waitFor(() => expect(button().textContent).toMatch(/^Hear it/));
    fireEvent.click(button());
    expect(onHear).toHaveBeenCalledTimes(2);
  });

  test("is silenced when the screen is left before the sound began", async () => {
    const stop = vi.fn();
    let begin: (stop: () => void) => void = () => {};
    const onHear = () =>
      new Promise<() => void>((resolve) => {
        begin = resolve;
      });
    const { unmount } = render(<HearButton exercise={exercise} onHear={onHear} />);
    fireEvent.click(button());
    expect(button().textContent).toMatch(/^Hush/);
    unmount();
    begin(stop);
    await vi.waitFor(() => expect(stop).toHaveBeenCalledOnce());
  });
});
