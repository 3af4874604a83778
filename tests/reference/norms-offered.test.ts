import { localNorms, type LocalPlan, type LocalResult } from '@musterbook/scoring/local-norms'
import { publishedNorms } from '@musterbook/scoring/published-norms'
import { quantile } from '@musterbook/scoring/quantiles'
import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { printedTables } from './norm-tables.ts'

/** How many score units one printed unit is: seconds, inches in quarters, ratios in percent. */
const scoreUnits: Record<string, number> = { s: 1, in: 4, ratio: 100 }

describe('the tables that are offered for adoption', () => {
  const groups = publishedNorms.flatMap((table) => table.groups.map((group) => ({ table, group })))

  test.each(groups)('$table.id, $group.sex from $group.ageFrom: every point was read in print', ({ table, group }) => {
    const twins = printedTables.filter((printed) => {
      const sameGroup =
        printed.sex === (group.sex === 'M' ? 'male' : 'female') && printed.ageFrom === group.ageFrom && printed.ageTo === group.ageTo
      const values = printed.points.map(({ percentile, value }) => ({
        percentile,
        value: Math.round(value * (scoreUnits[printed.unit] ?? NaN)),
      }))
      return sameGroup && printed.betterIs === table.betterIs && JSON.stringify(values) === JSON.stringify(group.points)
    })
    expect(twins).toHaveLength(1)
    expect(twins[0]?.points.every((point) => (point.provenance ?? twins[0]?.provenance) === 'published')).toBe(true)
  })

  test('none is in force, and each names source, edition and population', () => {
    for (const table of publishedNorms) {
      expect(table.adoption).toBeUndefined()
      expect([table.source, table.edition, table.population].every((text) => text.length > 3)).toBe(true)
    }
  })
})

const here = dirname(fileURLToPath(import.meta.url))

function rows(name: string): Record<string, string>[] {
  const [header = '', ...lines] = readFileSync(join(here, 'data', name), 'utf8')
    .trim()
    .split(/\r?\n/)
  const columns = header.split(',')
  return lines.map((line) => Object.fromEntries(line.split(',').map((cell, index) => [columns[index] ?? '', cell])))
}

const plan: LocalPlan = {
  id: 'local',
  edition: 'test',
  test: 'sitAndReach',
  unit: 'cm',
  betterIs: 'higher',
  method: 'type7',
  percentiles: [1, 5, 10, 25, 50, 75, 90, 95, 99],
  groups: [
    { sex: 'M', ageFrom: 21, ageTo: 29 },
    { sex: 'W', ageFrom: 21, ageTo: 29 },
    { sex: 'W', ageFrom: 60, ageTo: 64 },
  ],
  plausible: { min: -30, max: 60 },
}

describe('local norms on the two open data sets', () => {
  const korea: LocalResult[] = rows('body-performance-korea.csv').map((row) => ({
    value: Number(row['sit_bend_forward_cm']),
    sex: row['sex'] === 'M' ? 'M' : 'W',
    ageYears: Number(row['age_years']),
  }))

  test('the two impossible reaches are listed and kept, and move no published percentile by much', () => {
    const all = localNorms(korea, {
      ...plan,
      groups: [
        { sex: 'W', ageFrom: 21, ageTo: 64 },
        { sex: 'M', ageFrom: 21, ageTo: 64 },
      ],
    })
    expect(all.groups.flatMap((group) => group.implausible)).toEqual([185, 213])
    const without = localNorms(
      korea.filter((result) => result.value < 100),
      {
        ...plan,
        groups: [
          { sex: 'W', ageFrom: 21, ageTo: 64 },
          { sex: 'M', ageFrom: 21, ageTo: 64 },
        ],
      },
    )
    all.groups.forEach((group, at) =>
      group.points.forEach((point, row) => {
        expect(Math.abs(point.value - (without.groups[at]?.points[row]?.value ?? NaN))).toBeLessThan(0.1)
      }),
    )
  })

  test('Harrell-Davis is near type 7 in the middle of thousands', () => {
    const values = korea.filter((result) => result.sex === 'W' && result.ageYears <= 29).map((result) => result.value)
    const smooth = localNorms(korea, { ...plan, method: 'harrellDavis' }).groups[1]
    const middle = smooth?.points.find((point) => point.percentile === 50)
    expect(Math.abs((middle?.value ?? NaN) - quantile(values, 0.5))).toBeLessThan(0.2)
  })

  test('a small team is refused its tails: 100 women and 102 men', () => {
    const athletes: LocalResult[] = rows('ais-athletes.csv').map((row) => ({
      value: Number(row['pcBfat']),
      sex: row['sex'] === 'm' ? 'M' : 'W',
      ageYears: 20,
    }))
    const team = localNorms(athletes, {
      ...plan,
      betterIs: 'lower',
      groups: [
        { sex: 'W', ageFrom: 18, ageTo: null },
        { sex: 'M', ageFrom: 18, ageTo: null },
      ],
    })
    expect(team.groups.map((group) => group.n)).toEqual([100, 102])
    expect(team.groups.map((group) => group.refused.map((one) => one.percentile))).toEqual([
      [99, 1],
      [99, 1],
    ])
  })
})
