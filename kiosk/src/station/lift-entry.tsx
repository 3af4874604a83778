import type { ComponentChildren } from 'preact'
import type { StationStudent } from '@musterbook/day/views/station'
import type { ProtocolOf } from '@musterbook/stations/protocol'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { House } from '../house/house.ts'
import { LoadPicker } from '../parts/load-picker/load-picker.tsx'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'
import type { OpenTry, Read, StationActs } from './acts.ts'
import { barOf, effortsOf, tenthsOf } from './bar.ts'
import { Points } from './protocol-card.tsx'
import { measured } from './value-entry.tsx'

interface Props {
  house: House
  protocol: ProtocolOf<'loaded'>
  student: StationStudent
  tried: OpenTry
  acts: StationActs
  head: ComponentChildren
  foot: ComponentChildren
  onRead: (read: Omit<Read, 'photoDigest'>) => void
}

/** The load is recorded; one touch says how the lift went. */
export function LiftEntry({ protocol, student, tried, head, foot, onRead }: Props) {
  const load: Measured = tried.load ?? measured(protocol, protocol.details.bar)
  const says = inFigures(load.amount, protocol.unit)
  const outcome = (how: 'good' | 'noLift') =>
    onRead({
      outcome: how,
      value: how === 'good' ? load : null,
      folds: [],
      fault: null,
      keptUnusual: tried.keptLoad ?? false,
      says: `${says}, ${how === 'good' ? words.load.good : words.load.noLift}`,
    })
  return (
    <div class="work">
      <div class="work-told">
        {head}
        <Points title={words.station.stopWhen} points={protocol.stopWhen} />
        <p dir="auto">
          <strong>{protocol.tellWhom}</strong>
        </p>
      </div>
      <div class="work-main">
        <LoadPicker
          {...barOf(protocol)}
          loadTenths={tenthsOf(load.amount, protocol)}
          efforts={effortsOf(student, protocol)}
          of={student.tries}
          phase="lift"
          onLoad={() => undefined}
          onStart={() => undefined}
          onOutcome={outcome}
        />
        {foot}
      </div>
    </div>
  )
}
