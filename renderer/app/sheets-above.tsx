import { useState } from "react";
import { AboutSheet } from "../help/about-sheet.tsx";
import { HelpSheet } from "../help/help-sheet.tsx";

/** Which of the sheets that lie above every room is open. */
export function useSheetsAbove() {
  const [open, setOpen] = useState<"help" | "about" | null>(null);
  return {
    open,
    onHelp: () => setOpen("help"),
    onAbout: () => setOpen("about"),
    onClose: () => setOpen(null),
  };
}

interface SheetsAboveProps {
  readonly sheets: ReturnType<typeof useSheetsAbove>;
  readonly isDesktop: boolean;
}

/** The keys, and what the program is. */
export function SheetsAbove({ sheets: { open, onAbout, onClose }, isDesktop }: SheetsAboveProps) {
  if (open === "help") return <HelpSheet onClose={onClose} onAbout={onAbout} />;
  if (open === "about") return <AboutSheet isDesktop={isDesktop} onClose={onClose} />;
  return null;
}
