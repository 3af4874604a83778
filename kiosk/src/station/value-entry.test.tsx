import { demoProtocol } from '@musterbook/stations/controls'
import type { ProtocolOf } from '@musterbook/stations/protocol'
import type { StationStudent } from '@musterbook/day/views/station'
import { renderToString } from 'preact-render-to-string'
import { expect, test } from 'vitest'
import type { House } from '../house/house.ts'
import { measured, ValueEntry } from './value-entry.tsx'

const { details: _, ...common } = demoProtocol('measured')
const counted: ProtocolOf<'counted'> = {
  ...common,
  kind: 'counted',
  name: 'Push-ups',
  unit: 'count',
  scoreUnit: 'count',
  plausible: { min: 0, max: 100 },
  details: { counts: 'full push-ups', windowMs: 60_000 },
}
const student = { studentId: 's-1', attempts: [] } as unknown as StationStudent
const house = { clock: { steady: () => 0 } } as unknown as House

test('a counted station is typed as whole counts, with a watch beside it where it has a time', () => {
  const html = renderToString(
    <ValueEntry
      house={house}
      protocol={counted}
      student={student}
      tried={{ studentId: 's-1', attemptId: 'a-1', official: true, number: 2, load: null }}
      acts={{ answer: () => undefined } as never}
      head={null}
      foot={null}
      onRead={() => undefined}
    />,
  )
  expect(html).toContain('aria-label="Push-ups, try 2"')
  expect(html).toContain('aria-label="Stopwatch"')
  expect(html).not.toContain('Decimal mark')
})

test('a value carries what decides its meaning: whose clock, which foot-line, which bar', () => {
  expect(measured(demoProtocol('timed'), 1861)).toEqual({ amount: 1861, unit: 'hundredthsOfSecond', resolution: 1, method: 'hand' })
  expect(measured(demoProtocol('measured'), 335)).toMatchObject({ unit: 'millimetres', method: 'footLine260mm' })
  expect(measured(demoProtocol('loaded'), 450)).toMatchObject({ unit: 'tenthsKg', method: 'barAndPlates' })
  expect(measured(counted, 31)).toMatchObject({ unit: 'count', method: 'counted' })
})
