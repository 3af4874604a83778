import { useRef, useState } from 'preact/hooks'
import type { ComponentChildren } from 'preact'
import type { StationStudent } from '@musterbook/day/views/station'
import type { Protocol, ProtocolOf } from '@musterbook/stations/protocol'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { House } from '../house/house.ts'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { Stopwatch } from '../parts/stopwatch/stopwatch.tsx'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'
import type { OpenTry, Read, StationActs } from './acts.ts'
import { askAbout, historyOf } from './asks.ts'
import { elapsedIn, formOf } from './form.ts'

type OneValue = ProtocolOf<'timed'> | ProtocolOf<'measured'> | ProtocolOf<'counted'> | ProtocolOf<'run'>

interface Props {
  house: House
  protocol: OneValue
  student: StationStudent
  tried: OpenTry
  acts: StationActs
  head: ComponentChildren
  foot: ComponentChildren
  onRead: (read: Omit<Read, 'photoDigest'>) => void
}

/** One value a try: a time from the watch or typed, a length, a count. An unlikely one is asked about, never refused. */
export function ValueEntry({ house, protocol, student, tried, acts, head, foot, onRead }: Props) {
  const form = formOfProtocol(protocol)
  const history = historyOf(student, protocol.unit)
  const kept = useRef(false)
  const [watched, watch] = useState<number | undefined>(undefined)
  const answered = ({ question, kept: isKept }: { question: string; kept: boolean }) => {
    kept.current = isKept
    acts.answer('unusualValue', student.studentId, tried.attemptId, question, isKept ? 'keep' : 'retype')
  }
  const save = (padded: number) => {
    const value = measured(protocol, form.amountOf(padded))
    onRead({ outcome: 'good', value, folds: [], fault: null, keptUnusual: kept.current, says: inFigures(value.amount, protocol.unit) })
  }
  return (
    <NumberPad
      {...form}
      label={
        tried.number > 0
          ? words.station.entry(protocol.name, tried.number)
          : tried.official
            ? words.station.entryUnseen(protocol.name)
            : words.station.entryPractice(protocol.name)
      }
      unit={form.sign}
      start={watched === undefined ? '' : form.typedOf(watched)}
      question={(padded) => askAbout(form.amountOf(padded), protocol, history)}
      onAnswered={answered}
      onSave={save}
      foot={foot}
      head={
        <>
          {head}
          {isTimed(protocol) && (
            <Stopwatch
              steady={house.clock.steady}
              places={form.places === 1 ? 1 : 2}
              onStop={({ elapsedMs }) => watch(elapsedIn(elapsedMs, protocol.unit))}
            />
          )}
        </>
      }
    />
  )
}

const isTimed = (protocol: Protocol): boolean =>
  protocol.kind === 'timed' || (protocol.kind === 'counted' && protocol.details.windowMs !== undefined)

/** The pad of a protocol of one value. */
export const formOfProtocol = (protocol: Protocol) =>
  formOf({ ...protocol, negative: protocol.kind === 'measured' && protocol.details.negativeAllowed })

/** A value with what decides its meaning beside it: whose clock, which foot-line. */
export function measured(protocol: Protocol, amount: number): Measured {
  return { amount, unit: protocol.unit, resolution: protocol.resolution, method: methodOf(protocol) }
}

function methodOf(protocol: Protocol): string {
  if (protocol.timing) return protocol.timing
  if (protocol.kind === 'measured')
    return protocol.details.footLineMm === undefined ? protocol.details.instrument : `footLine${protocol.details.footLineMm}mm`
  if (protocol.kind === 'loaded') return 'barAndPlates'
  return protocol.kind === 'counted' ? 'counted' : 'hand'
}
