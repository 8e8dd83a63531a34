// The few words of vitest that the tests of the pure folders use, with vitest's own expectations: enough to load
// the tests once and to run any of them again at once.
import {
  ASYMMETRIC_MATCHERS_OBJECT,
  chai,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
} from "@vitest/expect";

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

export const expect = (value, message) => chai.expect(value, message);
Object.assign(expect, chai.expect, globalThis[ASYMMETRIC_MATCHERS_OBJECT]);

/** Every test met so far, by its id: what runs it, and the file that holds it. */
export const met = new Map();

let file = "";
let titles = [];

/** Says which file the next tests stand in. */
export function beginFile(name) {
  file = name;
}

function meetTest(title, run) {
  const name = [...titles, title].join(" > ");
  let id = `${file}#${name}`;
  for (let again = 2; met.has(id); again++) id = `${file}#${name} (${again})`;
  met.set(id, { id, name, file, run });
}

function meetGroup(title, meetAll) {
  const outer = titles;
  titles = [...titles, title];
  meetAll();
  titles = outer;
}

function withEach(meet) {
  const each = (rows) => (title, use) => {
    rows.forEach((row, at) => {
      meet(`${title} [${at}]`, () => (Array.isArray(row) ? use(...row) : use(row)));
    });
  };
  return Object.assign(meet, { each });
}

export const it = withEach(meetTest);
export const describe = withEach(meetGroup);

/** What tidies up after the tests of a file waits for the end of the process: they are run again until then. */
export function afterAll(tidy) {
  process.once("exit", tidy);
}
