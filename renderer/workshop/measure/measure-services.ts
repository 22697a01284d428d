import type { DecodeRecording } from "../../audio/decode.ts";
import type { OpenMicrophone } from "../../audio/microphone.ts";
import type { MeasurementStore } from "../../store/measurement-store.ts";
import type { MeasureWork } from "./measure-work.ts";

/** What measuring needs of the world. */
export interface MeasureServices {
  readonly measurements: MeasurementStore;
  readonly measureWork: MeasureWork;
  readonly openMicrophone: OpenMicrophone;
  readonly decodeRecording: DecodeRecording;
  readonly newId: () => string;
  readonly nowEpochMs: () => number;
  readonly zone: () => string;
}
