import type { RecordView } from '@musterbook/day/views/record'
import type { BundleChecked } from '@musterbook/replay/bundle'
import type { StudentProof } from '@musterbook/replay/leaves'
import { sayValue, type ReadingUnit } from '@musterbook/stations/units'
import { happenedAt } from '@musterbook/vocabulary/envelope'

/** What the file says of itself, in English: it must be read without us, and years from now. */
export function pageOf({ faults, evidence, fingerprint, recomputed, corrected }: BundleChecked): HTMLElement[] {
  const holds = faults.length === 0 && evidence !== null && recomputed !== null
  const verdict = made(
    'section',
    made('h2', holds ? 'The evidence holds together' : 'The evidence does not hold'),
    holds
      ? made(
          'p',
          'The signatures fit, each event and the record stand under the signed roots, and the scores computed here from the events are those that were stated. Whose key signed is for you to compare:',
        )
      : list('ul', faults),
    ...(fingerprint ? [made('p', 'Fingerprint of the key. Compare it with the printed day sheet:'), code(grouped(fingerprint))] : []),
  )
  verdict.setAttribute('role', 'status')
  verdict.className = holds ? 'holds' : 'fails'
  if (!evidence) return [made('h1', 'Musterbook evidence'), verdict]

  const { proof, after } = evidence
  const { value: record } = proof.record
  return [
    made('h1', `Record of ${evidence.name}`),
    made(
      'p',
      `${record.title}, ${record.date}${record.rehearsal ? ' (a rehearsal: not a real record)' : ''}. Bib ${record.bib ?? 'none'}. Sealed ${clock(proof.seal.statement.sealedAt)} at entry ${proof.seal.statement.version}.`,
    ),
    made(
      'p',
      after
        ? `Entries recorded since the seal: ${after.seal.statement.version}, the last ${clock(after.seal.statement.sealedAt)}. Those of this student stand below, and the scores twice: as sealed, and as they are with them.`
        : 'Nothing had been recorded after the seal when this file was made.',
    ),
    verdict,
    ...(after && corrected
      ? [made('h2', 'Scores with what came after the seal, computed here from the events'), ...scores(corrected)]
      : []),
    made('h2', 'Scores as sealed, computed here from the events'),
    ...(recomputed ? scores(recomputed) : []),
    made('h2', 'The events of the day'),
    list('ol', proof.events.map(said)),
    ...(after ? [made('h2', 'The events after the seal'), list('ol', after.events.map(said))] : []),
    made('p', 'Local policy and licensed clinicians decide. This file shows what was recorded.'),
  ]
}

const scores = (record: RecordView): HTMLElement[] =>
  record.stations
    .filter(({ result }) => result.working.length > 0)
    .map(({ name, result, protocolId, protocolVersion, source }) =>
      made(
        'section',
        made('h3', `${name}: ${result.says ?? 'no result'}${result.placing ? `, ${result.placing}` : ''}`),
        list(
          'ol',
          result.working.map((step) => `${step.rule}: ${step.from} gives ${step.gives}`),
        ),
        made('p', `Rules: ${protocolId} version ${protocolVersion}. ${source}. ${result.table ? `Norms ${result.table}.` : 'No norms.'}`),
      ),
    )

function said({ value }: StudentProof['events'][number]): string {
  const { meta, event, version, recordedAt } = value
  const elapsed = 'elapsedMs' in event ? `, ${sayValue(event.elapsedMs, 'milliseconds' as ReadingUnit)} after the gun` : ''
  const picture = event.type === 'resultRecorded' && event.photoDigest ? `, with the picture of SHA-256 ${event.photoDigest}` : ''
  return `Entry ${version}: ${plain(event.type)}${elapsed}${picture}. Happened ${clock(happenedAt(meta))} ± ${meta.bandMs} ms, recorded ${clock(recordedAt)}, by ${meta.personId ?? 'nobody who was signed on'}, device ${meta.deviceId}.`
}

const clock = (at: number): string => new Date(at).toISOString().replace('T', ' ').slice(0, 23) + ' UTC'

/** Elements and text alone: what the evidence says can never become markup. */
function made(tag: string, ...children: (string | Node)[]): HTMLElement {
  const element = document.createElement(tag)
  element.append(...children)
  return element
}
const list = (tag: 'ol' | 'ul', lines: readonly string[]): HTMLElement => made(tag, ...lines.map((line) => made('li', line)))
const code = (text: string): HTMLElement => made('p', made('code', text))
const grouped = (hex: string): string => hex.match(/.{1,8}/g)?.join(' ') ?? ''
const plain = (name: string): string => name.replaceAll(/([a-z])([A-Z])/g, '$1 $2').toLowerCase()
