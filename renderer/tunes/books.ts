import traditional from "../../assets/tunes/traditional.abc?raw";
import band from "../../assets/tunes/village-band.abc?raw";
import type { Book } from "./come-along.ts";

/** The books that come along: part of the program, not of what the player keeps. */
export const BOOKS: readonly Book[] = [
  { name: "comes along", text: traditional },
  { name: "comes along, our own", text: band },
];
