// Tells the mutation runner which words to leave alone: sentences that only people read.
// A literal that the program compares, looks up or gives out as data is still mutated.

/** Properties and variables that hold prose. */
const PROSE = new Set([
  "authors",
  "citation",
  "detail",
  "example",
  "formula",
  "hint",
  "meaning",
  "message",
  "note",
  "source",
  "summary",
  "title",
  "where",
  "why",
  "words",
]);

/** Functions whose arguments are prose. */
const TELLERS = new Set(["RangeError", "TypeError", "Error", "problem", "describe"]);

/** Decisions inside a template are mutated, so the template around them is not left out as a whole. */
const DECISIONS = new Set([
  "ArrowFunctionExpression",
  "BinaryExpression",
  "ConditionalExpression",
  "LogicalExpression",
  "UnaryExpression",
]);

function decides(node) {
  if (node === null || typeof node !== "object") return false;
  if (Array.isArray(node)) return node.some(decides);
  if (DECISIONS.has(node.type)) return true;
  return Object.entries(node).some(
    ([key, value]) =>
      key !== "loc" && !key.endsWith("omments") && typeof value === "object" && decides(value),
  );
}

function nameOf(node) {
  return node?.name ?? node?.value ?? node?.property?.name;
}

function isProse(path) {
  for (let { parentPath: up, node: below } = path; up !== null; below = up.node, up = up.parentPath) {
    const { node } = up;
    switch (node.type) {
      case "ArrayExpression":
      case "ConditionalExpression":
      case "LogicalExpression":
      case "TemplateLiteral":
      case "BinaryExpression":
        // What is compared is no prose, whatever takes the result.
        if (["===", "!==", "<", ">", "<=", ">="].includes(node.operator) || node.test === below) return false;
        continue;
      case "ObjectProperty":
        return node.value === below && PROSE.has(nameOf(node.key));
      case "VariableDeclarator":
        return PROSE.has(nameOf(node.id));
      case "NewExpression":
      case "CallExpression":
        return node.callee !== below && TELLERS.has(nameOf(node.callee));
      default:
        return false;
    }
  }
  return false;
}

export const strykerPlugins = [
  {
    kind: "Ignore",
    name: "words",
    value: {
      shouldIgnore(path) {
        if (path.node.type !== "StringLiteral" && path.node.type !== "TemplateLiteral") return undefined;
        // A single word may be data, whatever holds it.
        if (path.node.type === "StringLiteral" && !path.node.value.includes(" ")) return undefined;
        return isProse(path) && !decides(path.node) ? "words that people read" : undefined;
      },
    },
  },
];
