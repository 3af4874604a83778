import { useState } from 'preact/hooks'
import type { RecordView } from '@musterbook/day/views/record'
import type { StudentId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { SecondPerson } from './second-person.tsx'

/** Whose norms apply: the coordinator and a second person. Values stay; percentiles follow. */
export function NormGroupDialog({ house, record, onClose }: { house: House; record: RecordView; onClose: () => void }) {
  const [sex, setSex] = useState<string>(record.normGroup.sex)
  const [age, setAge] = useState(String(record.normGroup.ageYears))
  const [reason, write] = useState('')
  const [second, setSecond] = useState({ personId: '', pin: '' })
  const [wrong, setWrong] = useState('')
  const { record: say } = words.supervisor
  const save = () => {
    if (!/^\d{2}$/.test(age) || reason.trim() === '' || !second.personId) return setWrong(words.office.setUp.missing)
    onClose()
    void tell(
      house,
      say.normTold,
      'changeNormGroup',
      { studentId: record.studentId as StudentId, normGroup: { sex: sex as 'M' | 'W', ageYears: Number(age) }, reason: reason.trim() },
      second,
    )
  }
  return (
    <Dialog
      title={say.norm}
      open
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={save}>
          {say.norm}
        </Button>
      }
    >
      <div class="stack">
        <p>{say.normGroup(record.normGroup.sex, record.normGroup.ageYears)}</p>
        <Choice
          label={say.normSex}
          value={sex}
          choices={(['M', 'W'] as const).map((value) => ({ value, says: say.normSexes[value] }))}
          onChange={setSex}
        />
        <Field label={say.normAge} inputMode="numeric" value={age} onInput={setAge} maxLength={2} />
        <Field label={say.reason} long value={reason} onInput={write} maxLength={2000} error={wrong || undefined} />
        <SecondPerson house={house} value={second} onChange={setSecond} />
      </div>
    </Dialog>
  )
}
