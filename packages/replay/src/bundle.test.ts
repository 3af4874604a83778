import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { digest } from '@musterbook/evidence/canonical'
import { sealWith } from '@musterbook/evidence/seal'
import { checkBundle, evidenceText } from './bundle.ts'
import { proofOf, statementOf, type SaltOf } from './leaves.ts'

const saltOf: SaltOf = (tree, index) => digest({ tree, index })

/** Two students, a bench press over a weighed mass and two agility tries each. Invented. */
function bundle(studentId = 's116'): string {
  const day = c.drive()
  c.opened([c.expected('116'), c.expected('105')])(day)
  for (const bib of ['116', '105'])
    c.all(c.ready(bib), c.tries(bib, 'agility', `a-${bib}`, c.seconds(1720)), c.tries(bib, 'agility', `b-${bib}`, c.seconds(1690)))(day)
  const { entries } = day
  const statement = statementOf(c.dayId, entries, saltOf, { version: entries.length, hash: 'a'.repeat(64) }, c.clock('12:00'))
  const seal = sealWith(new Uint8Array(32).fill(7), statement)
  return evidenceText({
    form: 'musterbook bundle 1',
    name: 'A student <invented>',
    proof: proofOf(c.dayId, entries, saltOf, seal, studentId)!,
  })
}

test('a bundle computes the score again from its own events and agrees with what was sealed', () => {
  const text = bundle()
  const { faults, recomputed, fingerprint } = checkBundle(text)
  expect(faults).toEqual([])
  expect(fingerprint).toMatch(/^[0-9a-f]{64}$/)
  expect(recomputed?.stations.find(({ stationId }) => stationId === 'agility')?.result.says).toBe('16.9 s')
  expect(text).not.toContain('<')
  expect(text).not.toContain('s105')
})

test('of a thousand changed bytes of the evidence, each is shown', () => {
  const text = bundle()
  let random = 7
  const next = (below: number) => (random = (random * 48_271) % 2_147_483_647) % below
  const unseen: string[] = []
  const name = text.indexOf('"name":')
  const nameEnds = text.indexOf(',"proof"')
  for (let round = 0; round < 1_000; round++) {
    let at = next(text.length)
    // Whose it is said to be is no evidence: the seal knows no names.
    while (at > name && at < nameEnds) at = next(text.length)
    const sign = String.fromCharCode(33 + next(90))
    if (sign === text[at]) continue
    const bent = text.slice(0, at) + sign + text.slice(at + 1)
    if (checkBundle(bent).faults.length === 0) unseen.push(text.slice(at - 20, at + 20))
  }
  expect(unseen).toEqual([])
})
