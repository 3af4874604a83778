import type { StationStudent } from '@musterbook/day/views/station'
import type { ProtocolOf } from '@musterbook/stations/protocol'
import { partsOf } from '@musterbook/stations/units'
import type { Effort } from '../parts/load-picker/load-picker.tsx'

/** A load in tenths of what people say, as the picker has it. */
export const tenthsOf = (amount: number, { unit }: ProtocolOf<'loaded'>): number => Math.round((amount * 10) / partsOf(unit).per)

/** From the picker's tenths to the protocol's own unit. */
export const amountOfTenths = (tenths: number, { unit }: ProtocolOf<'loaded'>): number => Math.round((tenths * partsOf(unit).per) / 10)

/** What the picker needs of the bar: its unit, and what one touch adds. */
export function barOf(protocol: ProtocolOf<'loaded'>): { unit: 'kg' | 'lb'; stepsTenths: readonly [number, number] } {
  const small = tenthsOf(protocol.details.loadStep, protocol)
  return { unit: partsOf(protocol.unit).sign === 'lb' ? 'lb' : 'kg', stepsTenths: [small, 4 * small] }
}

/** The official efforts so far that used a try, in order. */
export const effortsOf = (student: StationStudent, protocol: ProtocolOf<'loaded'>): Effort[] =>
  student.attempts.flatMap(({ official, status, load, observations }) => {
    const outcome = observations[0]?.outcome
    if (!official || !load || !outcome || outcome === 'noFaultRerun' || (status !== 'recorded' && status !== 'void')) return []
    return [
      {
        loadTenths: tenthsOf(load.amount, protocol),
        outcome: outcome === 'good' && status === 'recorded' ? ('good' as const) : ('noLift' as const),
      },
    ]
  })
