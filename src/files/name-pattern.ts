/**
 * Whether a file's name fits a pattern in which * stands for any characters and ? for one. Only the last star is
 * ever tried again, so that no pattern takes longer than the product of both lengths.
 */
export function fitsPattern(name: string, pattern: string): boolean {
  const [letters, wanted] = [[...name], [...pattern]];
  let at = 0;
  let wantedAt = 0;
  let star = -1;
  let tried = 0;
  while (at < letters.length) {
    if (wanted[wantedAt] === "*") {
      star = wantedAt++;
      tried = at;
    } else if (wantedAt < wanted.length && (wanted[wantedAt] === "?" || wanted[wantedAt] === letters[at])) {
      at++;
      wantedAt++;
    } else if (star >= 0) {
      wantedAt = star + 1;
      at = ++tried;
    } else return false;
  }
  return wanted.slice(wantedAt).every((one) => one === "*");
}
