import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import { digest } from '@musterbook/evidence/canonical'
import { sealWith, sign } from '@musterbook/evidence/seal'
import { bundleStatement, checkBundle, evidenceText, type BundleEvidence } from './bundle.ts'
import { checkBundleFile, evidenceOpens, fileStatement, lastLineOf } from './bundle-file.ts'
import { proofOf, statementOf, type SaltOf } from './leaves.ts'

const secret = new Uint8Array(32).fill(7)
const saltOf: SaltOf = (tree, index) => digest({ tree, index })
const head = (version: number) => ({ version, hash: '0'.repeat(64) })

/** Two students, two agility tries each, and a correction of one after the seal. Invented. */
function bundle(): BundleEvidence {
  const day = c.drive()
  c.opened([c.expected('116'), c.expected('105')])(day)
  for (const bib of ['116', '105'])
    c.all(c.ready(bib), c.tries(bib, 'agility', `a-${bib}`, c.seconds(1720)), c.tries(bib, 'agility', `b-${bib}`, c.seconds(1690)))(day)
  day.enter([{ type: 'daySealed', openReviews: 0, acceptOpenReviews: null }])
  const sealed = [...day.entries]
  day.enter([
    {
      type: 'corrected',
      correctionId: 'correction-1' as never,
      studentId: c.studentId('116'),
      attemptId: 'b-116' as never,
      change: { kind: 'value', value: c.seconds(1650) },
      reason: { textId: 'text-1' as never, digest: 'd'.repeat(64) } as never,
      countersigned: { personId: 'ines' as never, at: c.clock('12:30') } as never,
    } as never,
  ])
  const statement = statementOf(c.dayId, sealed, saltOf, head(sealed.length), c.clock('12:00'))
  const later = statementOf(c.dayId, day.entries, saltOf, head(1), c.clock('12:30'), 'after')
  const evidence = {
    form: 'musterbook bundle 2' as const,
    name: 'A student <invented>',
    proof: proofOf(c.dayId, sealed, saltOf, sealWith(secret, statement), 's116')!,
    after: proofOf(c.dayId, day.entries, saltOf, sealWith(secret, later), 's116')!,
  }
  return signedAnew(evidence)
}
const signedAnew = (evidence: Omit<BundleEvidence, 'signature'>): BundleEvidence => ({
  ...evidence,
  signature: sign(secret, 'musterbook bundle 2', bundleStatement(evidence)),
})
const whole = bundle()
const text = evidenceText(whole)

test('a bundle computes the score again from its own events, as it was sealed and as it was corrected since', () => {
  const { faults, recomputed, corrected, fingerprint } = checkBundle(text)
  expect(faults).toEqual([])
  expect(fingerprint).toMatch(/^[0-9a-f]{64}$/)
  const agility = (record: typeof recomputed) => record?.stations.find(({ stationId }) => stationId === 'agility')?.result.says
  expect(agility(recomputed)).toBe('16.9 s')
  expect(agility(corrected)).toBe('16.5 s')
  expect(text).not.toContain('<')
  expect(text).not.toContain('s105')
})

test('even the site cannot leave out what it signed: a correction missing, another seal, another student', () => {
  const { after } = whole
  const without = signedAnew({
    ...whole,
    after: { ...after!, events: after!.events.filter(({ value }) => value.event.type !== 'corrected') },
  })
  expect(checkBundle(evidenceText(without)).faults).toEqual(['Agility run: the events give 16.9 s, the record after the seal says 16.5 s'])
  const opened = after!.events.filter(({ value }) => value.event.type !== 'afterOpened')
  expect(checkBundle(evidenceText(signedAnew({ ...whole, after: { ...after!, events: opened } }))).faults).toContain(
    'what came after does not follow this seal',
  )
  const named = { ...whole, name: 'Somebody else' }
  expect(checkBundle(evidenceText(named)).faults).toEqual(['the site’s signature does not fit what the file says'])
})

test('of a thousand changed bytes of the file each is found, those of the evidence by its page too, and so is a shorter or longer file', () => {
  const before = `<!doctype html>\n<p>A page</p>\n${evidenceOpens}`
  const page = `${before}${text}</script>\n<script>${'// code\n'.repeat(400)}</script>\n`
  const file = signedFile(page, secret)
  expect(checkBundleFile(file).faults).toEqual([])
  const opens = new TextEncoder().encode(before).length
  const ends = opens + new TextEncoder().encode(text).length
  let random = 7
  const next = (below: number) => (random = (random * 48_271) % 2_147_483_647) % below
  const unseen: number[] = []
  for (let count = 0; count < 1_000; count++) {
    const at = next(file.length)
    const byte = next(256)
    const bent = file.slice()
    bent[at] = bent[at] === byte ? byte ^ 1 : byte
    const [first, ...ofThePage] = checkBundleFile(bent).faults
    const isEvidence = at >= opens && at < ends
    if (first !== 'the file was changed after it was written' || (isEvidence && ofThePage.length === 0)) unseen.push(at)
  }
  expect(unseen).toEqual([])
  expect(checkBundleFile(file.subarray(0, -1)).faults).not.toEqual([])
  expect(checkBundleFile(new Uint8Array([...file, 10])).faults).not.toEqual([])
  // Whoever writes the page anew can work out its digest, and has no key to sign it with.
  const forged = signedFile(page.replace('A page', 'A lie'), new Uint8Array(32).fill(8))
  expect(checkBundleFile(forged).faults).toEqual(['the file was changed after it was written'])
})

function signedFile(page: string, key: Uint8Array): Uint8Array {
  const statement = fileStatement(new TextEncoder().encode(page))
  return new TextEncoder().encode(page + lastLineOf(statement, sign(key, 'musterbook file 1', statement)))
}
