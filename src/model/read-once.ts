/**
 * How zod is to look at a value whose form a run meets once or a few times: it would compile a reader for the form
 * first, which takes longer than the look.
 */
export const READ_ONCE = { jitless: true } as const;
