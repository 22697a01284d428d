import { type ReactNode, useContext } from "react";
import { keyName } from "../ui/keys.ts";
import { Keys } from "../ui/use-verbs.tsx";
import { ROOMS, type Room, type RoomName } from "./room.ts";

interface RoomsProps {
  readonly current: Room["kind"];
  readonly onEnter: (room: RoomName) => void;
  readonly onHelp: () => void;
  /** What is shown in every room. */
  readonly sign: ReactNode;
}

/** The way from any room to any other, with the key of each. */
export function Rooms({ current, onEnter, onHelp, sign }: RoomsProps) {
  return (
    <header>
      <nav className="rooms" aria-label="Rooms">
        <span className="product">Reedpath</span>
        {sign}
        {ROOMS.map(({ verb, name, holds }) => (
          <Way
            key={verb}
            verb={verb}
            name={name}
            isHere={holds.some((kind) => kind === current)}
            onClick={() => onEnter(verb)}
          />
        ))}
        <Way verb="help" name="Help" isHere={false} onClick={onHelp} />
      </nav>
    </header>
  );
}

interface WayProps {
  readonly verb: RoomName | "help";
  readonly name: string;
  readonly isHere: boolean;
  readonly onClick: () => void;
}

function Way({ verb, name, isHere, onClick }: WayProps) {
  const [key] = useContext(Keys)[verb];
  return (
    <button
      type="button"
      aria-current={isHere ? "page" : undefined}
      aria-keyshortcuts={key}
      onClick={onClick}
    >
      {key !== undefined && (
        <span className="soft" aria-hidden="true">
          {keyName(key)}
        </span>
      )}{" "}
      {name}
    </button>
  );
}
