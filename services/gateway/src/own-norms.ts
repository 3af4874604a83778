import type { Day } from '@musterbook/day/day'
import { resultOf } from '@musterbook/day/results'
import { localNorms, type LocalGroup } from '@musterbook/scoring/local-norms'
import { methodOf } from '@musterbook/stations/method'
import type { Protocol } from '@musterbook/stations/protocol'

/** What the site's own records say of one station, group by group; small groups are refused and say how many they would need. */
export interface OwnNorms {
  station: string
  unit: string
  days: number
  groups: readonly LocalGroup[]
}

const decades = [20, 30, 40, 50].flatMap((ageFrom) => (['M', 'W'] as const).map((sex) => ({ sex, ageFrom, ageTo: ageFrom + 9 })))

/**
 * Quantiles of final results over days, only of those measured as this day measures them. Computed for a page that people read
 * before they adopt anything: nothing here is in force.
 */
export function ownNorms(day: Day, others: readonly Day[]): OwnNorms[] {
  return (day.opened?.rules.stations ?? []).map(({ protocol: pinned }) => {
    const protocol = pinned as unknown as Protocol
    const method = JSON.stringify(methodOf(protocol))
    const alike = others.flatMap((other) => {
      const station = other.opened?.rules.stations.find((one) => JSON.stringify(methodOf(one.protocol as unknown as Protocol)) === method)
      return station ? [{ other, station }] : []
    })
    const results = alike.flatMap(({ other, station }) =>
      [...other.students.values()].flatMap((student) => {
        const { amount, state } = resultOf(other, student, station)
        return amount !== null && state === 'final' ? [{ value: amount, ...student.normGroup }] : []
      }),
    )
    const { groups } = localNorms(results, {
      id: `own-${protocol.protocolId}`,
      edition: day.opened?.facts.date ?? '',
      test: protocol.protocolId,
      unit: protocol.scoreUnit,
      betterIs: protocol.betterIs,
      method: 'type7',
      percentiles: [95, 90, 75, 50, 25, 10, 5],
      groups: decades,
      plausible: { min: -Infinity, max: Infinity },
    })
    return { station: protocol.name, unit: protocol.scoreUnit, days: alike.length, groups: groups.filter((group) => group.n > 0) }
  })
}
