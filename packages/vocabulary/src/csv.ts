/** What a spreadsheet would take for the beginning of a formula: OWASP, CSV Injection. */
const formula = /^[=+\-@\t\r]/

/** A cell as RFC 4180 has it, quoted where it must be. Text that a spreadsheet would run as a formula is kept from it by a leading apostrophe; a number stays one. */
export function csvCell(value: string | number | boolean | null, separator: ',' | ';' = ','): string {
  if (value === null) return ''
  const text = typeof value === 'string' && formula.test(value) ? `'${value}` : String(value)
  return text.includes(separator) || /["\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

/** The text as it was before it was kept from being a formula. */
export const withoutGuard = (cell: string): string => (cell.startsWith("'") && formula.test(cell.slice(1)) ? cell.slice(1) : cell)
