/**
 * A sentence from right to left. What is put into it stands apart (first-strong isolate, U+2068 … U+2069), so that a bib,
 * a time, a value with its unit or a name in Latin letters keeps its own order. A part that begins with our own comma runs
 * from the right whatever follows it (U+2067): the comma would stand at the wrong end of a Latin name.
 */
export const line = (parts: TemplateStringsArray, ...put: readonly (string | number)[]): string =>
  String.raw({ raw: parts }, ...put.map((one) => (one === '' ? '' : `${String(one).startsWith('،') ? '\u2067' : '\u2068'}${one}\u2069`)))
