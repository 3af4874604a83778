import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'

// What a day decides, folds or draws must come out the same on every engine. The files that it reaches from here may
// reach no function whose last bit differs; estimates are computed once, elsewhere, and kept.
const reachedByTheDay = [
  'hold-policy.ts',
  'reading-figures.ts',
  'reading-checks.ts',
  'classify.ts',
  'policies.ts',
  'lightning.ts',
  'air.ts',
  'cold.ts',
  'day-chart.ts',
]
const engineDependent = /Math\.(exp|pow|log|sin|cos|tan|asin|acos|atan|cbrt|hypot|sqrt)|(?<!10n )\*\*|psychrolib|suncalc/

/** Every file of this package that these import, themselves included. */
function closure(files: readonly string[], seen = new Set<string>()): Set<string> {
  for (const file of files) {
    if (seen.has(file)) continue
    seen.add(file)
    const imports = [...textOf(file).matchAll(/^import (?!type).*from '\.\/(.+)'$/gm)].map(([, name]) => name ?? '')
    closure(imports, seen)
  }
  return seen
}

const textOf = (file: string) => readFileSync(new URL(file, import.meta.url), 'utf8').replaceAll(/\/\*\*?[^]*?\*\/|\/\/.*/g, '')

test('what a day reaches is whole numbers only', () => {
  const files = [...closure(reachedByTheDay)]
  expect(files).toEqual(expect.arrayContaining(['exact.ts', 'wbgt.ts', 'temperature.ts']))
  expect(files.filter((file) => engineDependent.test(textOf(file)))).toEqual([])
})

test('the look finds what it looks for', () => {
  expect(['liljegren.ts', 'psychrometrics.ts', 'sun.ts', 'wind-chill.ts'].every((file) => engineDependent.test(textOf(file)))).toBe(true)
})
