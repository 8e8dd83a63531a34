import { join } from "node:path";
import { numbers } from "../../helpers/mutate.ts";
import { nextCase } from "./cases.ts";
import { faultOf, makeLab, placeCase } from "./judge.ts";
import { knownWords } from "./targets.ts";

// Started by run.mjs: cases from a seed on until the time is over. Tells its parent of every case before it starts,
// so that one that never ends is known too. Works in the folder its parent gives it and removes.
const [seed = "1", until = "0", repository = ".", room = "."] = process.argv.slice(2);
const lab = join(room, "lab");
const place = join(room, "case");
await makeLab(lab);
const known = knownWords(repository);
for (let number = Number(seed); Date.now() < Number(until); number++) {
  const one = nextCase(lab, known, numbers(number));
  const told = { ...one, bytes: Buffer.from(one.bytes).toString("base64"), number };
  process.send?.(told);
  placeCase(lab, place, one.file, one.bytes);
  const fault = await faultOf(one.words, place, one.bytes);
  process.send?.({ ...told, done: true, fault });
}
process.disconnect?.();
