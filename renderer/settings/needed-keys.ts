/** Keys that controls and the system need for themselves wherever one is. */
const NEEDED = ["Tab", "Enter", "Dead", "Unidentified", "Process"];

/** Whether a key cannot be given to a verb. */
export const isTaken = (key: string): boolean => NEEDED.includes(key);

export const NEEDED_KEYS_WORDS = "buttons need it. Press another.";
