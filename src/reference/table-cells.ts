import { FileError } from "../files/file-error.ts";

/** The cell as one of a list of words. @throws FileError naming the line when it is none of them */
export function oneOf<const Word extends string>(
  text: string,
  words: readonly Word[],
  file: string,
  line: number,
): Word {
  const word = words[words.indexOf(text as Word)];
  if (word === undefined)
    throw new FileError(file, `line ${line}: "${text}" is none of ${words.filter(Boolean).join(", ")}`);
  return word;
}

/** The cell as a number, undefined when it is empty. @throws FileError naming the line when it is no number */
export function optionalNumber(text: string, file: string, line: number): number | undefined {
  if (text === "") return undefined;
  if (!/^-?\d+(\.\d+)?$/u.test(text))
    throw new FileError(file, `line ${line}: "${text}" is not a decimal number`);
  return Number(text);
}
