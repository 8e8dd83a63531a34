import { workerData } from "node:worker_threads";
import { loadProgram } from "./load-program.ts";

// A thread of the program: the same bundle as in the main thread, and the same cache. What it is started for is said
// by the thread that starts it.
void loadProgram().runThread(workerData.job);
