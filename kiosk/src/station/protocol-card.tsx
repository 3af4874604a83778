import type { Protocol } from '@musterbook/stations/protocol'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'

/** How the test is done, what voids it and when to stop, in the protocol's own words. */
export function ProtocolCard({ protocol, equipmentIds }: { protocol: Protocol; equipmentIds: readonly string[] }) {
  const footLine = protocol.kind === 'measured' ? protocol.details.footLineMm : undefined
  return (
    // Focusable, so that a keyboard can scroll it where it is longer than the dialog.
    <div class="protocol-card" role="group" aria-label={protocol.name} tabIndex={0}>
      <p dir="auto">
        <strong>{protocol.name}.</strong> {protocol.measures}
      </p>
      <Points title={words.station.steps} points={protocol.steps} />
      <Points title={words.station.voids} points={protocol.voids} />
      <Points title={words.station.stopWhen} points={protocol.stopWhen} />
      <p dir="auto">
        <strong>{protocol.tellWhom}</strong>
      </p>
      {protocol.cautions.map((caution) => (
        <p key={caution} class="caution" dir="auto">
          {caution}
        </p>
      ))}
      <p class="quiet">
        {[
          equipmentIds.length > 0 && words.station.equipment(equipmentIds.join(', ')),
          footLine !== undefined && words.station.footLine(inFigures(footLine, 'millimetres')),
          words.station.cardFrom(protocol.source),
          protocol.invented && words.station.invented,
        ]
          .filter(Boolean)
          .join('. ')}
        .
      </p>
    </div>
  )
}

export function Points({ title, points }: { title: string; points: readonly string[] }) {
  return (
    <>
      <h3>{title}</h3>
      <ul class="points" dir="auto">
        {points.map((point) => (
          <li key={point}>{point}</li>
        ))}
      </ul>
    </>
  )
}
