import { writtenCodes, type WrittenCode } from '@musterbook/stations/written-codes'
import type { Protocol } from '@musterbook/stations/protocol'
import { Choice } from '../parts/field/field.tsx'
import { faultInWords } from '../station/fault-words.ts'
import { words } from '../words/words.ts'

export const codeOf = (protocol: Protocol, code: string): WrittenCode | undefined => writtenCodes(protocol).find((one) => one.code === code)

/** What came of it, by the code that stands on the sheet. */
export function CodeChoice({
  protocol,
  code,
  good,
  onChange,
}: {
  protocol: Protocol
  code: string
  good: string
  onChange: (code: string) => void
}) {
  return (
    <Choice
      label={words.paper.outcome}
      hint={words.paper.outcomeHint}
      value={code}
      blank={good}
      choices={writtenCodes(protocol).map((one) => ({ value: one.code, says: `${one.code}: ${codeInWords(one)}` }))}
      onChange={onChange}
    />
  )
}

function codeInWords({ outcome, fault }: WrittenCode): string {
  const how = words.station.outcome[outcome]
  if (fault === null) return words.paper.notSaidWhich(how)
  return `${how}, ${words.run.reasons[fault] ?? faultInWords(fault)}`
}
