import { expect, test } from 'vitest'
import { inOrder, mayMove, type Runner } from './order.ts'

const runner = (name: string, more: Partial<Runner>) => ({ name, state: 'running' as const, toGo: 3, ...more })

test('the runner who should come by next is first; who runs no longer is last', () => {
  const order = inOrder([
    runner('finished', { state: 'finished', expectedAt: 1 }),
    runner('late', { expectedAt: 900 }),
    runner('unknown', {}),
    runner('soon', { expectedAt: 300 }),
    runner('stopped', { state: 'stopped' }),
  ])
  expect(order.map(({ name }) => name)).toEqual(['soon', 'late', 'unknown', 'stopped', 'finished'])
})

test('before the first lap the order stays as the wave was listed', () => {
  expect(inOrder([runner('b', {}), runner('a', {}), runner('c', {})]).map(({ name }) => name)).toEqual(['b', 'a', 'c'])
})

test('keys change places between crossings, not while somebody is due on the line; who is long overdue holds nothing up', () => {
  const due = (expectedAt: number | undefined, state: 'running' | 'finished' = 'running') => ({ state, toGo: 3, expectedAt })
  expect(mayMove([due(103_000), due(160_000)], 100_000)).toBe(false)
  expect(mayMove([due(97_500)], 100_000)).toBe(false)
  expect(mayMove([due(103_001), due(undefined)], 100_000)).toBe(true)
  expect(mayMove([due(90_000), due(100_000, 'finished')], 100_000)).toBe(true)
})
