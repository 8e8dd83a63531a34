/** How the files of a batch are named in a run: without folders, each once. */
export interface InputNames {
  /** The name of the n-th file. */
  readonly names: readonly string[];
  /** Puts the names of the run for the paths in a text. */
  inText(text: string): string;
  /** The name in the run of a path as it was given. */
  nameOf(path: string): string;
}

/**
 * Names files by the last part of their path, so that a run does not depend on the folder it was made in. A name
 * that is there already gets a number behind it.
 *
 * @param paths as findings name them (a workbook with `#` and its sheet)
 */
export function nameInputs(paths: readonly string[]): InputNames {
  const taken = new Set<string>();
  const byPath = new Map<string, string>();
  const names = paths.map((path) => {
    const base = baseName(path);
    let name = base;
    for (let number = 2; taken.has(name); number++) name = `${base} (${number})`;
    taken.add(name);
    if (!byPath.has(path)) byPath.set(path, name);
    return name;
  });
  // The longest first, so that a path that starts another one does not cut it.
  const replaced = [...byPath].filter(([path, name]) => path !== name);
  replaced.sort(([a], [b]) => b.length - a.length);
  return {
    names,
    nameOf: (path) => byPath.get(path) ?? baseName(path),
    inText: (text) => replaced.reduce((sum, [path, name]) => sum.replaceAll(path, name), text),
  };
}

/** The last part of a path; a sheet of a workbook stays behind it. */
export function baseName(path: string): string {
  const [file = "", ...sheet] = path.split("#");
  const last =
    file
      .replace(/(?<![\\/])[\\/]+$/, "")
      .split(/[\\/]/)
      .at(-1) ?? file;
  return [last, ...sheet].join("#");
}
