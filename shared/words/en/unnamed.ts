/**
 * Texts of the server that come without a name, by their English: why it refuses, what is wrong
 * with a value, questions, sources, names of rules. "{}" stands for what varies.
 */
export const unnamed: Readonly<Record<string, string>> = {};
