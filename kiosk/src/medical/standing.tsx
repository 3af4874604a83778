import type { MedicalView } from '@musterbook/day/views/medical'
import type { ClearanceId } from '@musterbook/vocabulary/ids'
import type { ClearanceStatus } from '@musterbook/vocabulary/clearance'
import { Button } from '../parts/button/button.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { tell } from '../shell/shell.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { keyOf, sayLimit } from './limits.ts'
import type { About } from './student-file.tsx'

/** The clearance that stands, who recorded it and when; both, where two screeners recorded without seeing each other. */
export function Standing({ house, student, studentId, who, view }: About & { view: MedicalView }) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const newest = student.standing.at(-1)
  const withdraw = (clearanceId: string) =>
    void tell(house, words.medical.withdrawn(who), 'withdrawClearance', { clearanceId: clearanceId as ClearanceId, studentId })
  return (
    <section class="stack" aria-labelledby="standing" data-conflict={student.conflict || undefined}>
      <h3 id="standing">{words.medical.standing}</h3>
      {student.conflict && (
        <p role="alert" class="trouble">
          {words.medical.conflictTitle} {words.medical.settle}
        </p>
      )}
      {student.standing.length === 0 && <p>{words.medical.none}</p>}
      <ul class="medical-standing">
        {student.standing.map(({ clearanceId, status, limits, personId, at }) => (
          <li key={clearanceId} class="medical-clearance">
            <Mark state={status as ClearanceStatus} />
            {limits.length > 0 && (
              <strong>
                {limits.map((limit) => (
                  <span key={keyOf(limit)}>{sayLimit(limit, view)}</span>
                ))}
              </strong>
            )}
            <span class="figures">
              {words.medical.recordedBy(
                personId ? (house.staff.value.get(personId) ?? personId) : words.medical.somebody,
                wallClock(at, zone, true),
              )}
            </span>
          </li>
        ))}
      </ul>
      {newest && newest.status !== 'withdrawn' && newest.status !== 'notToday' && (
        <Button kind="stop" size="key" wide detail={words.medical.withdrawHelp} onPress={() => withdraw(newest.clearanceId)}>
          {words.medical.withdraw}
        </Button>
      )}
    </section>
  )
}
