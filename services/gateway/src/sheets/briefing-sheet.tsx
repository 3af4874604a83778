import type { Protocol } from '@musterbook/stations/protocol'
import { briefingWords } from '@musterbook/stations/briefing-words'
import type { SheetLanguage } from './words.ts'

interface Props {
  protocol: Protocol
  language: SheetLanguage
}

/** What a class is told before a test, made from its protocol. The protocol’s own sentences are shown as they were adopted. */
export function BriefingSheet({ protocol, language }: Props) {
  const words = briefingWords[language]
  return (
    <>
      <h1>{protocol.name}</h1>
      <p>{protocol.measures}</p>
      <h2>{words.steps}</h2>
      <ol>
        {protocol.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <h2>{words.voids}</h2>
      <List lines={protocol.voids} />
      <h2>{words.tries}</h2>
      <p>
        {words.triesAre(protocol.tries, words.counts[protocol.official])}
        {protocol.minimumRestMs > 0 && ` ${words.rest(Math.round(protocol.minimumRestMs / 60_000))}`}
      </p>
      <h2>{words.stopWhen}</h2>
      <List lines={protocol.stopWhen} />
      <p>
        <strong>{words.tell}</strong> {protocol.tellWhom}
      </p>
      <h2>{words.cautions}</h2>
      <p>{words.atAnyTime}</p>
      <List lines={protocol.cautions} />
      <p class="quiet">
        {protocol.protocolId} · {protocol.version} · {protocol.source}
        {protocol.invented && ` · ${words.invented}`}
      </p>
    </>
  )
}

function List({ lines }: { lines: readonly string[] }) {
  return (
    <ul>
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  )
}
