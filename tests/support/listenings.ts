export { heardNote, listeningOf } from "../../core/simulate/perfect-ear.ts";
