import { at } from "./at.ts";

const ZERO_CODE = "0".charCodeAt(0);

/**
 * A number as every output writes it: a dot, no thousands mark, no exponent, at most 12 significant digits,
 * no trailing zeros, no negative zero.
 *
 * @throws RangeError for a value that is not finite: such a value is missing, and missing is an empty cell
 */
export function numberText(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`not a finite number: ${value}`);
  if (Number.isInteger(value) && Math.abs(value) < 1e12) return String(value);
  const text = value.toPrecision(12);
  const plain = text.includes("e") ? withoutExponent(text) : text;
  // Most end in a digit that says something.
  if (plain.charCodeAt(plain.length - 1) !== ZERO_CODE) return plain;
  return plain.includes(".") ? plain.replace(/\.?0+$/, "") : plain;
}

function withoutExponent(text: string): string {
  const parts = text.split("e");
  const mantissa = at(parts, 0);
  const exponent = Number(at(parts, 1));
  const sign = mantissa.startsWith("-") ? "-" : "";
  const digits = mantissa.replace("-", "").replace(".", "");
  if (exponent < 0) return `${sign}0.${"0".repeat(-exponent - 1)}${digits}`;
  return `${sign}${digits.padEnd(exponent + 1, "0")}`;
}
