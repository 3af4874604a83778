import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

/*
 * A day must fold to the same scores, byte for byte, on any machine. Exponentials, logarithms and powers may differ in their last
 * bit between engines: they stand in these files alone, whose results are computed once and stored.
 */
const computedOnce = ['scoring/intervals', 'scoring/lms', 'scoring/normal', 'scoring/quantiles', 'stations/one-rep-max']

/** What folds, projections and replay call to say what a result is. */
const calledInFolds = [
  'stations/official-result',
  'stations/laps',
  'stations/lap-steps',
  'stations/witnesses',
  'stations/skinfold',
  'stations/plausibility',
  'stations/method',
  'stations/track-check',
  'scoring/age',
  'scoring/fat-result',
  'scoring/score-station',
  'scoring/progress',
]

const packages = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'packages')
const source = (name: string) => readFileSync(join(packages, name.replace('/', '/src/') + '.ts'), 'utf8')
const differs = /Math\.(exp|expm1|pow|log|log10|log1p|log2|a?sinh?|a?cosh?|a?tanh?|atan2|cbrt|hypot)\b|\*\*[^/*]/
const withoutComments = (text: string) => text.replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*/g, '')

test('engine-dependent arithmetic stands in the named files and nowhere else', () => {
  const all = ['stations', 'scoring'].flatMap((name) =>
    readdirSync(join(packages, name, 'src'))
      .filter((file) => file.endsWith('.ts') && !file.endsWith('.test.ts'))
      .map((file) => `${name}/${file.replace('.ts', '')}`),
  )
  expect(all.filter((name) => differs.test(withoutComments(source(name)))).sort()).toEqual(computedOnce)
})

test.each(calledInFolds)('%s reaches none of them', (name) => {
  expect(reachedFrom(name).filter((one) => computedOnce.includes(one))).toEqual([])
})

test('what does reach them is seen to', () => {
  expect(reachedFrom('scoring/local-norms')).toEqual(expect.arrayContaining(['scoring/quantiles', 'scoring/intervals']))
})

function reachedFrom(name: string, seen: ReadonlySet<string> = new Set()): string[] {
  if (seen.has(name)) return []
  // A type is gone before anything runs.
  const imports = [...source(name).matchAll(/^import (?!type )[^']*'\.\/(.+)\.ts'$/gm)].map(([, file]) => `${name.split('/')[0]}/${file}`)
  return [...new Set([name, ...imports.flatMap((next) => reachedFrom(next, new Set([...seen, name])))])]
}
