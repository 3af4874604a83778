import { draft } from '@musterbook/ledger/controls'
import type { Entry, LedgerEvent } from '@musterbook/ledger/ledger'
import { expect, test } from 'vitest'
import { faultsAgainst, startsUnderHold } from './record.ts'

const entry = (version: number, commandId: string, event: LedgerEvent = { type: 'checkedIn' }): Entry => ({
  ...draft(commandId),
  events: [event],
  stream: 'day/1',
  version,
  prevHash: '',
  hash: '',
})

test('what was acknowledged and is lost, doubled or elsewhere is seen', () => {
  const told = [
    { commandId: 'c1', version: 1 },
    { commandId: 'c2', version: 2 },
  ]
  expect(faultsAgainst(told, [entry(1, 'c1'), entry(2, 'c2')])).toEqual([])
  expect(faultsAgainst(told, [entry(1, 'c1')])).toEqual(['c2 was acknowledged at 2 and stands at none'])
  expect(faultsAgainst(told, [entry(1, 'c1'), entry(2, 'c2'), entry(3, 'c2')])).toEqual(['c2 stands 2 times'])
  expect(faultsAgainst(told, [entry(1, 'c2'), entry(2, 'c1')])).toHaveLength(2)
})

test('a gun that nothing held back after the hold is seen', () => {
  const hold = entry(2, 'h', { type: 'holdRaised' })
  const gun = (version: number, underHold: string | null) => entry(version, `g${version}`, { type: 'waveStarted', underHold })
  const lifted = entry(4, 'l', { type: 'holdLifted' })
  expect(startsUnderHold([gun(1, null), hold, gun(3, 'thunder'), lifted, gun(5, null)])).toEqual([])
  expect(startsUnderHold([gun(1, null), hold, gun(3, null), lifted]).map(({ version }) => version)).toEqual([3])
})
