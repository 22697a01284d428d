import type { Way } from "../../core/score/attempt.ts";
import type { HandsFree } from "../practice/hands-free.tsx";

/** How takes are meant and what begins them. */
export interface HowToPlay extends HandsFree {
  readonly way: Way;
}
