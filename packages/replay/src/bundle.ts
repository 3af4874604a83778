import { canonical } from '@musterbook/evidence/canonical'
import { keyFingerprint } from '@musterbook/evidence/seal'
import type { DayEntry } from '@musterbook/day/evolve'
import { recordView, type RecordView } from '@musterbook/day/views/record'
import type { DayId } from '@musterbook/vocabulary/ids'
import { proofFaults, type StudentProof } from './leaves.ts'
import { fold } from './moments.ts'

/** What one file holds for whoever must check it without us: one student’s proof, and whose it is said to be. */
export interface BundleEvidence {
  form: 'musterbook bundle 1'
  name: string
  proof: StudentProof
}

export interface BundleChecked {
  /** Each as a sentence; none when everything holds. */
  faults: string[]
  evidence: BundleEvidence | null
  /** Of the key that signed, to compare with the printed day sheet: the file cannot say whose key it is. */
  fingerprint: string
  /** Computed here and now from the events alone. */
  recomputed: RecordView | null
}

/** As it stands in the file: canonical, so that a changed byte is a changed value, and without a sign that could end the script element. */
export const evidenceText = (evidence: BundleEvidence): string => canonical(evidence).replaceAll('<', '\\u003c')

/** Checks the evidence of a bundle as its bytes stand: form, seal, proofs, and the score computed again from the events. */
export function checkBundle(text: string): BundleChecked {
  const evidence = read(text)
  if (typeof evidence === 'string') return { faults: [evidence], evidence: null, fingerprint: '', recomputed: null }
  try {
    const fingerprint = keyFingerprint(evidence.proof.seal.publicKey)
    const recomputed = recomputedFrom(evidence.proof)
    return {
      evidence,
      fingerprint,
      recomputed,
      faults: [...proofFaults(evidence.proof, fingerprint), ...scoreFaults(evidence.proof.record.value, recomputed)],
    }
  } catch {
    return { faults: ['the evidence is not in the form that it names'], evidence: null, fingerprint: '', recomputed: null }
  }
}

function read(text: string): BundleEvidence | string {
  try {
    const evidence = JSON.parse(text) as BundleEvidence
    if (evidence.form !== 'musterbook bundle 1') return 'the evidence is not in the form that it names'
    return evidenceText(evidence) === text ? evidence : 'the evidence was changed after it was written'
  } catch {
    return 'the evidence cannot be read'
  }
}

/** The same fold as everywhere else, over this student’s own events. */
function recomputedFrom({ events, record }: StudentProof): RecordView | null {
  const entries = new Map<string, DayEntry>()
  const inOrder = [...events].sort((one, other) => one.value.version - other.value.version || one.value.place - other.value.place)
  for (const { value } of inOrder) {
    const { stream, version, recordedAt, meta, event } = value
    const before = entries.get(`${stream} ${version}`)
    entries.set(`${stream} ${version}`, { stream, version, recordedAt, meta, events: [...(before?.events ?? []), event] } as DayEntry)
  }
  return recordView(fold(record.value.dayId as DayId, [...entries.values()]), record.value.studentId)
}

function scoreFaults(sealed: RecordView, recomputed: RecordView | null): string[] {
  return sealed.stations.flatMap((station) => {
    const again = recomputed?.stations.find(({ stationId }) => stationId === station.stationId)?.result
    return again && canonical(again) === canonical(station.result)
      ? []
      : [`${station.name}: the events give ${again?.says ?? 'no result'}, the sealed record says ${station.result.says ?? 'no result'}`]
  })
}
