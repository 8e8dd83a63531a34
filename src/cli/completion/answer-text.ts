import type { Offers } from "./offers.ts";

/**
 * Offers as the shells read them: first what paths the shell adds (`none`, `files` or `folders`), then a line for
 * each word, with what is said about it behind a tab. A word that would break the line or reach the terminal as a
 * command cannot be offered.
 */
export function answerText({ words, paths }: Offers): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters that may not pass
  const unsafe = /[\u0000-\u001f\u007f-\u009f\u200b\u2028-\u202e\u2066-\u2069\ufffd]/;
  const lines = words
    .filter(({ word }) => word !== "" && !unsafe.test(word))
    .map(({ word, about }) => {
      const sentence = /^.*?[.;:](?= |$)|^.*/.exec(about.replaceAll(/\s+/g, " "))?.[0] ?? "";
      const short = sentence.replace(/[.;:]$/, "");
      return short === "" || unsafe.test(short) ? word : `${word}\t${short}`;
    });
  return `${[paths, ...lines].join("\n")}\n`;
}
