import { check } from "./check.ts";
import { completion } from "./completion/completion.ts";
import type { CommandDefinition } from "./define.ts";
import { demo } from "./demo.ts";
import { explain } from "./explain.ts";
import { exportRun } from "./export.ts";
import { grids } from "./grids/grids.ts";
import { init } from "./init.ts";
import { metrics } from "./metrics.ts";
import { qc } from "./qc/qc.ts";
import { reference } from "./reference/reference.ts";
import { report } from "./report.ts";
import { rescore } from "./rescore.ts";
import { score } from "./score.ts";
import { subsample } from "./subsample.ts";
import { verify } from "./verify.ts";

/** Every command, in the order in which help lists them. A new command is one file and one line here. */
export const COMMANDS: readonly CommandDefinition[] = [
  init,
  check,
  grids,
  subsample,
  metrics,
  score,
  explain,
  verify,
  rescore,
  qc,
  report,
  exportRun,
  reference,
  demo,
  completion,
];
