import type { Disposition } from '@musterbook/vocabulary/hold'
import type { BodyOf } from '@musterbook/vocabulary/acts'
import type { DeviceId, HoldId, PersonId, ReadingId, StudentId } from '@musterbook/vocabulary/ids'
import type { TakeReading } from '@musterbook/vocabulary/site'
import type { House } from '../house/house.ts'
import type { Outcome } from '../live/api.ts'
import { showWhat, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'

/** What the site answers to a reading. "Received": only the day's view says "in force". */
export interface Receipt {
  wbgtTenths: number | null
  unit: 'degC' | 'degF'
  band: string
  usable: boolean
  questions: string[]
  calledHold: boolean
}

/** Everything that the safety officer tells, each in one place. */
export function safetyActs(house: House) {
  const { told } = words.safety
  return {
    read: async (reading: TakeReading): Promise<Outcome<Receipt>> =>
      (await showWhat(house, told.reading, house.takeReading(reading))) as Outcome<Receipt>,
    dispose: (holdId: string, disposition: Disposition) =>
      tell(house, told.disposed(words.safety.dispositions[disposition]), 'disposeHold', { holdId: holdId as HoldId, disposition }),
    heardByRadio: (holdId: string, device: { id: string; name: string }, saidBy: string, said: string) =>
      tell(house, told.heardByRadio(device.name), 'noteHeardByRadio', {
        holdId: holdId as HoldId,
        deviceId: device.id as DeviceId,
        saidBy: saidBy as PersonId,
        words: said.trim() || null,
      }),
    propose: (holdId: string, readingId: string | null, reason: string | null) =>
      tell(house, told.proposed, 'proposeLift', { holdId: holdId as HoldId, readingId: readingId as ReadingId | null, reason }),
    confirm: (holdId: string) => tell(house, told.confirmed, 'confirmLift', { holdId: holdId as HoldId }),
    observe: (kind: BodyOf<'observeHazard'>['kind'], value: number | null) =>
      tell(house, told.hazard(words.safety.hazardKinds[kind] ?? kind), 'observeHazard', { kind, zoneId: null, value }),
    answerStop: (studentId: string, bib: string, answer: 'acknowledged' | 'arrived') =>
      tell(house, told[answer](bib), 'answerStop', { studentId: studentId as StudentId, answer }),
    excuse: (studentId: string, bib: string, reason: string) =>
      tell(house, told.excused(bib), 'excuseCoolDown', { studentId: studentId as StudentId, reason }),
  }
}
