/**
 * A sentence from right to left. What is put into it stands apart (first-strong isolate, U+2068 … U+2069), so that a bib,
 * a time, a value with its unit or a name in Latin letters keeps its own order.
 */
export const line = (parts: TemplateStringsArray, ...put: readonly (string | number)[]): string =>
  String.raw({ raw: parts }, ...put.map((one) => (one === '' ? '' : `\u2068${one}\u2069`)))
