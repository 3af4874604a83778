import { expect, test } from 'vitest'
import { csvCell, withoutGuard } from './csv.ts'

/** Beginnings that OWASP's page “CSV Injection” names: = + - @ tab carriage return. */
test.each(['=HYPERLINK("http://x","y")', '+1', '-2+3', '@SUM(1)', '\tx', '\rx'])(
  '%j is written as text, and read back as it was',
  (text) => {
    const written = csvCell(text)
    expect(written.replace(/^"/, '')).toMatch(/^'/)
    expect(withoutGuard(written.replace(/^"([\s\S]*)"$/, '$1').replaceAll('""', '"'))).toBe(text)
  },
)

test('numbers, names with an apostrophe and empty cells stay as they are', () => {
  expect([-1.5, 12, null, true].map((value) => csvCell(value))).toEqual(['-1.5', '12', '', 'true'])
  expect(csvCell("'t Hooft")).toBe("'t Hooft")
  expect(withoutGuard("'t Hooft")).toBe("'t Hooft")
})

test('what holds the separator, a quote or an end of line is quoted (RFC 4180)', () => {
  expect(csvCell('Pell, Sunniva')).toBe('"Pell, Sunniva"')
  expect(csvCell('Pell, Sunniva', ';')).toBe('Pell, Sunniva')
  expect(csvCell('a "b"')).toBe('"a ""b"""')
  expect(csvCell('a\r\nb')).toBe('"a\r\nb"')
})
