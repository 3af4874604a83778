import { expect, test } from 'vitest'
import fc from 'fast-check'
import * as c from '@musterbook/day/controls'
import { keyFingerprint, sealWith } from '@musterbook/evidence/seal'
import { digest } from '@musterbook/evidence/canonical'
import { eventLeaves, proofFaults, proofOf, statementOf, type SaltOf, type StudentProof } from './leaves.ts'

const secret = new Uint8Array(32).fill(7)
const saltOf: SaltOf = (tree, index) => digest({ tree, index })

/** A wave of twelve, a hold over it, and a seal. Invented. */
function sealedDay() {
  const bibs = Array.from({ length: 12 }, (_, index) => String(101 + index))
  const day = c.drive()
  day.tell('openDay', c.ines, { facts: c.demoFacts(), rules: c.demoRules(), expected: bibs.map((bib) => c.expected(bib)) } as never, {
    at: '07:30',
  })
  for (const bib of bibs) {
    day.tell('checkIn', c.kiosk, { studentId: c.studentId(bib), secondIdentifier: 'birthDate' })
    day.tell('recordClearance', c.petra, {
      clearanceId: `clearance-${bib}` as never,
      studentId: c.studentId(bib),
      status: 'cleared',
      limits: [],
      supersedes: null,
    })
  }
  day.tell('confirmWarmUp', c.wren, { studentIds: bibs.map(c.studentId) })
  day.reading(21, { readAt: '09:55' })
  day.tell(
    'startWave',
    c.wren,
    {
      waveId: 'wave' as never,
      stationId: 'run' as never,
      official: true,
      runners: bibs.map((bib) => ({ studentId: c.studentId(bib), attemptId: `run-${bib}` as never })),
    },
    { at: '10:00:00' },
  )
  day.tell('raiseHold', c.rashid, { holdId: 'hold' as never, kind: 'heat', zoneId: 'track' as never }, { at: '10:08:00' })
  const own = day.entries.filter((entry) => entry.stream.startsWith('day/'))
  const statement = statementOf(c.dayId, own, saltOf, { version: own.length, hash: 'a'.repeat(64) }, c.clock('12:00'))
  const seal = sealWith(secret, statement)
  return { own, seal, fingerprint: keyFingerprint(seal.publicKey), proof: proofOf(c.dayId, own, saltOf, seal, 's105') as StudentProof }
}
const sealed = sealedDay()

test('a start of twelve is twelve leaves, and a student’s proof holds without anybody else in it', () => {
  expect(eventLeaves(sealed.own).filter((leaf) => leaf.event.type === 'waveStarted')).toHaveLength(12)
  expect(proofFaults(sealed.proof, sealed.fingerprint)).toEqual([])
  const text = JSON.stringify(sealed.proof)
  expect(text).toContain('s105')
  for (const bib of ['101', '104', '106', '112']) expect(text).not.toContain(`s${bib}`)
  expect(sealed.proof.events.map((leaf) => leaf.value.event.type)).toEqual(
    expect.arrayContaining(['dayOpened', 'checkedIn', 'attemptStarted', 'waveStarted', 'holdRaised']),
  )
})

test('another key, another salt, another score or another place does not hold, and is said', () => {
  expect(proofFaults(sealed.proof, keyFingerprint('b'.repeat(64)))).toEqual(['the seal was made with another key than the one expected'])
  const bent = JSON.parse(JSON.stringify(sealed.proof)) as StudentProof
  bent.record.value.normGroup.ageYears += 1
  expect(proofFaults(bent, sealed.fingerprint)).toEqual(['the record is not the one that was sealed'])
  const moved = JSON.parse(JSON.stringify(sealed.proof)) as StudentProof
  moved.events[1] = { ...moved.events[1]!, salt: 'c'.repeat(64) }
  expect(proofFaults(moved, sealed.fingerprint)).toHaveLength(1)
})

test('any changed character of the evidence in a proof is found', () => {
  const text = JSON.stringify(sealed.proof)
  fc.assert(
    fc.property(fc.nat(text.length - 1), fc.constantFrom('0', '1', 'x', ' ', '9', '"', 'a'), (place, letter) => {
      if (text[place] === letter) return
      const bent = text.slice(0, place) + letter + text.slice(place + 1)
      let parsed: StudentProof
      try {
        parsed = JSON.parse(bent) as StudentProof
      } catch {
        return
      }
      // White space between members and an equal number written otherwise are no change of the evidence.
      if (JSON.stringify(parsed) === text) return
      let faults: string[]
      try {
        faults = proofFaults(parsed, sealed.fingerprint)
      } catch {
        return
      }
      // The form's own name and the printed key's hex letters in another case say nothing about the evidence.
      if (parsed.form !== sealed.proof.form) return
      expect(faults, bent.slice(Math.max(0, place - 40), place + 40)).not.toEqual([])
    }),
    { numRuns: 400 },
  )
})
