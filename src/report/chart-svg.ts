/**
 * Leaves the drawing of a chart and takes off what only a live chart needs: classes and rules for the mouse, and
 * marks of the library. What refers to each other is named after `id`; the library numbers it through the process.
 */
export function stillSvg(svg: string, id: string): string {
  return svg
    .replace(/<style\b[\s\S]*?<\/style>\s*/g, "")
    .replace(/ (?:class="zr[^"]*"|ecmeta_\w+="[^"]*"|pointer-events="visible")/g, "")
    .replace(/\bzr\d+-/g, `${id}-`);
}
