import { canonical, digest } from '@musterbook/evidence/canonical'
import { keyFingerprint, signatureHolds } from '@musterbook/evidence/seal'
import type { DayEntry } from '@musterbook/day/evolve'
import { recordView, type RecordView } from '@musterbook/day/views/record'
import type { DayId } from '@musterbook/vocabulary/ids'
import { proofFaults, type EventLeaf, type StudentProof } from './leaves.ts'
import { fold } from './moments.ts'

/** What one file holds for whoever must check it without us: one student’s proofs, and whose they are said to be. */
export interface BundleEvidence {
  form: 'musterbook bundle 2'
  name: string
  /** Against the seal of the day. */
  proof: StudentProof
  /** What came after the seal, against a statement that the site signed over it when the file was made; null: nothing had come. */
  after: StudentProof | null
  /** The site’s, over all of the above. */
  signature: string
}

export interface BundleChecked {
  /** Each as a sentence; none when everything holds. */
  faults: string[]
  evidence: BundleEvidence | null
  /** Of the key that signed, to compare with the printed day sheet: the file cannot say whose key it is. */
  fingerprint: string
  /** Computed here and now from the events alone: as sealed, and as corrected since. */
  recomputed: RecordView | null
  corrected: RecordView | null
}

/** As it stands in the file: canonical, so that a changed byte is a changed value, and without a sign that could end the script element. */
export const evidenceText = (evidence: BundleEvidence): string => canonical(evidence).replaceAll('<', '\\u003c')

/** What the signature over a bundle is of. */
export const bundleStatement = ({ form, name, proof, after }: Omit<BundleEvidence, 'signature'>): { digest: string } => ({
  digest: digest({ form, name, proof, after }),
})

/** Checks the evidence of a bundle as its bytes stand: form, signatures, proofs, and the scores computed again from the events. */
export function checkBundle(text: string): BundleChecked {
  const evidence = read(text)
  if (typeof evidence === 'string') return nothing(evidence)
  try {
    const { proof, after } = evidence
    const fingerprint = keyFingerprint(proof.seal.publicKey)
    const recomputed = recomputedFrom(proof, proof.events)
    const corrected = after && recomputedFrom(after, [...proof.events, ...after.events])
    return {
      evidence,
      fingerprint,
      recomputed,
      corrected,
      faults: [
        ...(signatureHolds(
          { publicKey: proof.seal.publicKey, signature: evidence.signature },
          'musterbook bundle 2',
          bundleStatement(evidence),
        )
          ? []
          : ['the site’s signature does not fit what the file says']),
        ...proofFaults(proof, fingerprint),
        ...(proof.seal.statement.stream === `day/${proof.record.value.dayId}` ? [] : ['the seal is of another day']),
        ...scoreFaults('the sealed record', proof.record.value, recomputed),
        ...(after
          ? [
              ...proofFaults(after, fingerprint),
              ...(follows(after, proof) ? [] : ['what came after does not follow this seal']),
              ...scoreFaults('the record after the seal', after.record.value, corrected),
            ]
          : []),
      ],
    }
  } catch {
    return nothing('the evidence is not in the form that it names')
  }
}

const nothing = (fault: string): BundleChecked => ({ faults: [fault], evidence: null, fingerprint: '', recomputed: null, corrected: null })

function read(text: string): BundleEvidence | string {
  try {
    const evidence = JSON.parse(text) as BundleEvidence
    if (evidence.form !== 'musterbook bundle 2') return 'the evidence is not in the form that it names'
    return evidenceText(evidence) === text ? evidence : 'the evidence was changed after it was written'
  } catch {
    return 'the evidence cannot be read'
  }
}

/** Of the same day and student, and carrying the seal that it comes after. */
function follows(after: StudentProof, { seal, record }: StudentProof): boolean {
  const carries = after.events.some(
    ({ value: { event } }) =>
      event.type === 'afterOpened' && event.sealedVersion === seal.statement.version && event.sealedHash === seal.statement.hash,
  )
  return (
    carries &&
    after.seal.statement.stream === `after/${record.value.dayId}` &&
    after.record.value.dayId === record.value.dayId &&
    after.record.value.studentId === record.value.studentId
  )
}

/** The same fold as everywhere else, over this student’s own events, the day’s before those that came after. */
function recomputedFrom({ record }: StudentProof, events: readonly { value: EventLeaf }[]): RecordView | null {
  const entries = new Map<string, DayEntry>()
  const isAfter = ({ stream }: EventLeaf) => Number(stream.startsWith('after/'))
  const inOrder = events
    .map(({ value }) => value)
    .sort((one, other) => isAfter(one) - isAfter(other) || one.version - other.version || one.place - other.place)
  for (const { stream, version, recordedAt, meta, event } of inOrder) {
    const before = entries.get(`${stream} ${version}`)
    entries.set(`${stream} ${version}`, { stream, version, recordedAt, meta, events: [...(before?.events ?? []), event] } as DayEntry)
  }
  return recordView(fold(record.value.dayId as DayId, [...entries.values()]), record.value.studentId)
}

function scoreFaults(which: string, stated: RecordView, recomputed: RecordView | null): string[] {
  return stated.stations.flatMap((station) => {
    const again = recomputed?.stations.find(({ stationId }) => stationId === station.stationId)?.result
    return again && canonical(again) === canonical(station.result)
      ? []
      : [`${station.name}: the events give ${again?.says ?? 'no result'}, ${which} says ${station.result.says ?? 'no result'}`]
  })
}
