/** The text of a page without its tags, in one line. */
export function wordsOf(page: string): string {
  return page
    .replace(/<style>[\s\S]*?<\/style>/, "")
    .replace(/<[^>]*>/g, " ")
    .replace(/\s+/g, " ");
}
