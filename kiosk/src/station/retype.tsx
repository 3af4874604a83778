import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { words } from '../words/words.ts'
import type { Saved, StationActs } from './acts.ts'
import { askAbout } from './asks.ts'
import { Told } from './told.tsx'
import { whichOf } from './tries.tsx'
import { tryOf } from './undo.tsx'
import { formOfProtocol, measured } from './value-entry.tsx'

interface Props {
  house: House
  view: StationView
  student: StationStudent
  saved: Saved
  acts: StationActs
  onForget: () => void
}

/** Undone just now, and read as one value: the right one may be typed at once. */
export const mustRetype = (student: StationStudent, saved: Saved, { protocol }: StationView): boolean =>
  protocol.kind !== 'skinfold' && protocol.kind !== 'loaded' && tryOf(student, saved)?.status === 'void'

/** The first reading stays as void. The right value is a correction of the same try, so that no try is lost by a slip. */
export function Retype({ house, view, student, saved, acts, onForget }: Props) {
  const { protocol } = view
  const form = formOfProtocol(protocol)
  const found = tryOf(student, saved)
  if (!found) return null
  const correct = (padded: number) => {
    onForget()
    const value = measured(protocol, form.amountOf(padded))
    const what = words.station.told.mended(student.bib ?? '?')
    void acts.correct(what, student.studentId, found, { kind: 'value', value }, words.station.retypedReason)
  }
  return (
    <NumberPad
      {...form}
      label={words.station.rightValue}
      unit={form.sign}
      question={(padded) => askAbout(form.amountOf(padded), protocol, [])}
      onAnswered={({ question, kept }) =>
        acts.answer('unusualValue', student.studentId, found.attemptId, question, kept ? 'keep' : 'retype')
      }
      onSave={correct}
      head={
        <Told house={house} view={view} student={student} says={whichOf(found)}>
          <div class="ask" role="status">
            <p class="ask-says">{words.station.undone(saved.says)}</p>
            <p>{words.station.undoneHelp}</p>
          </div>
        </Told>
      }
      foot={
        <div class="entry-foot">
          <Button onPress={onForget}>{words.station.leaveVoid}</Button>
        </div>
      }
    />
  )
}
