import { useState } from 'preact/hooks'
import type { StationStudent } from '@musterbook/day/views/station'
import type { ProtocolOf } from '@musterbook/stations/protocol'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { LoadPicker } from '../parts/load-picker/load-picker.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'
import type { StationActs } from './acts.ts'
import { askAbout, historyOf, otherUnit } from './asks.ts'
import { amountOfTenths, barOf, effortsOf, tenthsOf } from './bar.ts'
import { EarlyReason } from './early-reason.tsx'
import { formOf } from './form.ts'
import { measured } from './value-entry.tsx'

interface Props {
  house: House
  student: StationStudent
  acts: StationActs
  protocol: ProtocolOf<'loaded'>
  /** The last start was refused for a reason that staff may answer. */
  early: boolean
  onStart: (load: Measured, kept: boolean) => void
  onEarly: (load: Measured, kept: boolean, reason: string) => void
}

/** The load before the lift: suggested by the efforts so far, set by staff, asked about when it is unlikely. */
export function LoadBar({ student, acts, protocol, early, onStart, onEarly }: Props) {
  const { propose, says } = suggestion(student, protocol)
  const [set, setLoad] = useState<{ for: number; amount: number } | null>(null)
  const [kept, keep] = useState<number | null>(null)
  const [asked, ask] = useState<string | null>(null)
  const [typing, setTyping] = useState(false)
  const efforts = effortsOf(student, protocol)
  // What staff set holds for one effort; the next begins at its own suggestion.
  const amount = set?.for === efforts.length ? set.amount : propose
  const load = measured(protocol, amount)
  const change = (next: number) => {
    ask(null)
    setLoad({ for: efforts.length, amount: Math.max(protocol.details.bar, next) })
  }
  const answer = (isKept: boolean) => {
    if (asked) acts.answer('unusualValue', student.studentId, null, asked, isKept ? 'keep' : 'retype')
    ask(null)
    if (!isKept) return
    keep(amount)
    onStart(load, true)
  }
  const start = () => {
    const question = kept === amount ? undefined : questionOf(amount, propose, student, protocol)
    if (question) ask(question)
    else onStart(load, kept === amount)
  }

  if (student.place === 'waiting')
    return (
      <>
        <p>{says}</p>
        <Button kind="primary" size="key" wide onPress={() => void acts.callUp(student)}>
          {student.bib ? words.station.callUpBib(student.bib) : words.station.callUp}
        </Button>
      </>
    )
  return (
    <>
      {early && <EarlyReason onStart={(reason) => onEarly(load, kept === amount, reason)} />}
      {asked ? (
        <div class="ask" role="alert">
          <p class="ask-says">{asked}</p>
          <div class="row">
            <Button kind="primary" size="key" onPress={() => answer(true)}>
              {words.station.keepLoad(inFigures(amount, protocol.unit))}
            </Button>
            <Button size="key" onPress={() => answer(false)}>
              {words.station.loadAgain}
            </Button>
          </div>
        </div>
      ) : (
        <LoadPicker
          {...barOf(protocol)}
          loadTenths={tenthsOf(amount, protocol)}
          efforts={efforts}
          of={student.tries}
          phase="load"
          onLoad={(tenths) => change(amountOfTenths(tenths, protocol))}
          onStart={start}
          onOutcome={() => undefined}
        />
      )}
      <div class="row load-more">
        <p>{says}</p>
        <Button size="small" onPress={() => setTyping(true)}>
          {words.station.typeLoad}
        </Button>
      </div>
      <TypeLoad protocol={protocol} open={typing} onClose={() => setTyping(false)} onLoad={change} />
    </>
  )
}

interface TypeLoadProps {
  protocol: ProtocolOf<'loaded'>
  open: boolean
  onClose: () => void
  onLoad: (amount: number) => void
}

function TypeLoad({ protocol, open, onClose, onLoad }: TypeLoadProps) {
  const form = formOf({ ...protocol, resolution: 1 })
  return (
    <Dialog title={words.station.typeLoad} open={open} onClose={onClose}>
      <NumberPad
        {...form}
        label={words.station.loadLabel}
        unit={form.sign}
        save={words.station.setLoad}
        onSave={(padded) => {
          onClose()
          onLoad(form.amountOf(padded))
        }}
      />
    </Dialog>
  )
}

/** What the efforts so far suggest, and the sentence that says so. */
function suggestion(student: StationStudent, protocol: ProtocolOf<'loaded'>): { propose: number; says: string } {
  const next = student.nextLoad
  const { bar } = protocol.details
  if (!next || 'unknown' in next) return { propose: bar, says: words.station.massUnknown }
  if ('found' in next)
    return next.found === null
      ? { propose: bar, says: words.station.foundNone }
      : { propose: next.found, says: words.station.found(inFigures(next.found, protocol.unit)) }
  return { propose: next.propose, says: words.station.suggested(inFigures(next.propose, protocol.unit), words.station.why[next.why]) }
}

/** Plates of the other unit are the likeliest slip: a load that differs much is asked about in both. */
function questionOf(amount: number, propose: number, student: StationStudent, protocol: ProtocolOf<'loaded'>): string | undefined {
  const history = historyOf(student, protocol.unit)
  const asked = askAbout(amount, protocol, history.length > 0 ? history : [propose])
  return asked && `${asked} ${otherUnit(amount, protocol.unit)}`
}
