import { AboveRoom } from "./above-room.tsx";
import { DemoAbove, DemoBelow } from "./demo-days.tsx";
import { Displayed } from "./displayed.tsx";
import { MicrophoneSign } from "./microphone-sign.tsx";
import { OpenRoom } from "./open-room.tsx";
import { RoomKeys } from "./room-keys.tsx";
import { Rooms } from "./rooms.tsx";
import { useWindow, type WindowProps } from "./use-window.ts";
import "./app.css";

/** The way between the rooms, what has to be told in any of them, and the one that is open. */
export function App(props: WindowProps) {
  const all = useWindow(props);
  const { settings, room, enterRoom, sheets, services, demo, history } = all;
  return (
    <Displayed settings={settings}>
      <RoomKeys room={room} onEnter={enterRoom} onHelp={sheets.onHelp} />
      <Rooms
        current={room.kind}
        onEnter={enterRoom}
        onHelp={sheets.onHelp}
        sign={<MicrophoneSign microphones={services.microphones} />}
      />
      <AboveRoom all={all} />
      <DemoAbove demo={demo} room={room.kind} history={history.read} />
      <OpenRoom all={all} />
      <DemoBelow demo={demo} room={room.kind} history={history.read} />
    </Displayed>
  );
}
