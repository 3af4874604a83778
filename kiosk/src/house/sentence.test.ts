import { afterEach, expect, test, vi } from 'vitest'
import { refusal } from '@musterbook/vocabulary/refusals'
import { en } from '../words/en.ts'
import { es } from '../words/es.ts'
import { speak } from '../words/words.ts'
import { gateSays, refusalSays } from './sentence.ts'

vi.stubGlobal('document', { documentElement: {} })
afterEach(() => speak('en', en))

test('a wave’s no carries the runner’s own reason in the language of the screen', () => {
  const own = refusal('calledElsewhere', { station: 'Reach' })
  const heard = refusal('runnerMayNotStart', { ...own.params, bib: '112', why: own.says, rule: own.rule })
  expect(refusalSays(heard).says).toBe('#112: Called up to Reach now.')
  speak('es', es)
  expect(refusalSays(heard).says).toBe('#112: Llamado ahora a Reach.')
})

test('so does a gate; what the screen says of it itself stays as it is', () => {
  speak('es', es)
  const { rule, params, says, next, who } = refusal('calledElsewhere', { station: 'Reach' })
  const gate = { gate: 'free', state: 'notMet', rule, params, says, next, who, until: null } as const
  expect(gateSays(gate).says).toBe('Llamado ahora a Reach.')
  expect(gateSays({ ...gate, rule: null, says: 'Descanso' }).says).toBe('Descanso')
})
