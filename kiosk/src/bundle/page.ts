import type { BundleChecked } from '@musterbook/replay/bundle'
import { sayValue, type ReadingUnit } from '@musterbook/stations/units'
import { happenedAt } from '@musterbook/vocabulary/envelope'

/** What the file says of itself, in English: it must be read without us, and years from now. */
export function pageOf({ faults, evidence, fingerprint, recomputed }: BundleChecked): HTMLElement[] {
  const holds = faults.length === 0 && evidence !== null && recomputed !== null
  const verdict = made(
    'section',
    made('h2', holds ? 'The evidence holds together' : 'The evidence does not hold'),
    holds
      ? made(
          'p',
          'The signature fits, each event and the record stand under the sealed roots, and the scores computed here from the events are those that were sealed. Whose key signed is for you to compare:',
        )
      : list('ul', faults),
    ...(fingerprint ? [made('p', 'Fingerprint of the key. Compare it with the printed day sheet:'), code(grouped(fingerprint))] : []),
  )
  verdict.setAttribute('role', 'status')
  verdict.className = holds ? 'holds' : 'fails'
  if (!evidence) return [made('h1', 'Musterbook evidence'), verdict]

  const { record, seal } = evidence.proof
  const clock = (at: number) => new Date(at).toISOString().replace('T', ' ').slice(0, 23) + ' UTC'
  return [
    made('h1', `Record of ${evidence.name}`),
    made(
      'p',
      `${record.value.title}, ${record.value.date}${record.value.rehearsal ? ' (a rehearsal: not a real record)' : ''}. Bib ${record.value.bib ?? 'none'}. Sealed ${clock(seal.statement.sealedAt)} at entry ${seal.statement.version}.`,
    ),
    made('p', 'As it was sealed. What was corrected since stands behind the seal and is not in this file.'),
    verdict,
    made('h2', 'Scores, computed here from the events'),
    ...(recomputed?.stations ?? [])
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
      ),
    made('h2', 'The events'),
    list(
      'ol',
      evidence.proof.events.map(({ value }) => {
        const { meta, event, version, recordedAt } = value
        const elapsed = 'elapsedMs' in event ? `, ${sayValue(event.elapsedMs, 'milliseconds' as ReadingUnit)} after the gun` : ''
        return `Entry ${version}: ${plain(event.type)}${elapsed}. Happened ${clock(happenedAt(meta))} ± ${meta.bandMs} ms, recorded ${clock(recordedAt)}, by ${meta.personId ?? 'nobody signed on'} on ${meta.deviceId}.`
      }),
    ),
    made('p', 'Local policy and licensed clinicians decide. This file shows what was recorded.'),
  ]
}

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
