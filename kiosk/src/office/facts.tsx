import { words } from '../words/words.ts'

/** Fields of a rule as it is kept, each with its name spelled out: whatever a rule holds can be read before it is adopted. */
export function Facts({ of }: { of: Record<string, unknown> }) {
  return (
    <dl class="office-facts">
      {Object.entries(of).map(([name, value]) => (
        <Fact key={name} name={name} value={value} />
      ))}
    </dl>
  )
}

function Fact({ name, value }: { name: string; value: unknown }) {
  return (
    <>
      <dt>{spelled(name)}</dt>
      <dd>
        <Value value={value} isOrdered={name === 'steps'} />
      </dd>
    </>
  )
}

function Value({ value, isOrdered = false }: { value: unknown; isOrdered?: boolean }) {
  if (Array.isArray(value)) {
    if (value.length === 0) return <>{words.common.none}</>
    const List = isOrdered ? 'ol' : 'ul'
    return (
      <List class={isOrdered ? 'office-steps' : 'office-bullets'}>
        {value.map((one, at) => (
          <li key={at}>
            <Value value={one} />
          </li>
        ))}
      </List>
    )
  }
  if (typeof value === 'object' && value !== null) return <Facts of={value as Record<string, unknown>} />
  if (typeof value === 'boolean') return <>{value ? words.common.yes : words.common.no}</>
  return <>{value === null ? words.common.none : String(value)}</>
}

/** 'minimumRestMs' → 'Minimum rest ms'. */
const spelled = (name: string): string => {
  const plain = name.replaceAll(/([a-z0-9])([A-Z])/g, (_, before: string, after: string) => `${before} ${after.toLowerCase()}`)
  return plain.charAt(0).toUpperCase() + plain.slice(1)
}
