import type { KeptTune } from "../store/tune-store.ts";
import { BOOKS } from "./books.ts";
import { tunesOfBooks } from "./come-along.ts";

/** The tunes that come along. In the built window this file is its result (vite.config.ts): reading them takes longer than all else. */
export const COME_ALONG: readonly KeptTune[] = tunesOfBooks(BOOKS);
