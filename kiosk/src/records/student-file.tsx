import type { StudentFile } from '@musterbook/gateway/student-file'
import type { House } from '../house/house.ts'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'
import { FileDay } from './file-day.tsx'
import { ProgressLines } from './progress.tsx'
import { Requests } from './requests.tsx'

const retestMarks = { open: 'waiting', used: 'done', ended: 'notMet' } as const

/** One student’s record over the years, newest day first. */
export function StudentFilePart({ house, studentId, onAnother }: { house: House; studentId: string; onAnother: () => void }) {
  const fetched = useFetched<StudentFile>(house, `/api/records/students/${encodeURIComponent(studentId)}`)
  const file = fetched.value
  const say = words.records
  if (!file) return <p role="status">{fetched.failed ? say.failed : words.office.loading}</p>
  return (
    <div class="stack">
      <Head house={house} file={file} onAnother={onAnother} />
      {file.progress.map(({ from, to, lines }) => (
        <section key={to} class="stack">
          <h3>{say.progress(from, to)}</h3>
          <ProgressLines caption={say.progress(from, to)} lines={lines} />
        </section>
      ))}
      {file.days.length === 0 && <p>{say.noDays}</p>}
      {[...file.days].reverse().map((one) => (
        <FileDay key={one.day.dayId} house={house} one={one} />
      ))}
      <div class="supervisor-pair">
        <section class="stack">
          <h3>{say.retests}</h3>
          {file.entitlements.length === 0 && <p>{say.noRetests}</p>}
          <ul class="office-list">
            {file.entitlements.map((one) => (
              <li key={one.entitlementId} class="office-line">
                <span>{say.retest(one.stations.join(', '), one.grantedOn, one.until)}</span>
                <Mark state={retestMarks[one.state]} says={say.retestStates[one.state](one.usedOn ?? '')} />
              </li>
            ))}
          </ul>
        </section>
        <Requests house={house} file={file} onTold={() => void fetched.refresh()} />
      </div>
    </div>
  )
}

function Head({ house, file: { studentId, who, erasure }, onAnother }: { house: House; file: StudentFile; onAnother: () => void }) {
  const say = words.records
  const named = (personId: string) => house.staff.value.get(personId) ?? personId
  return (
    <section class="sheet stack" aria-label={who?.name ?? say.gone}>
      <h2>{who?.name ?? say.gone}</h2>
      {who ? (
        <dl class="office-facts">
          <dt>{say.className}</dt>
          <dd>
            {who.className}
            {who.left && `, ${say.hasLeft}`}
          </dd>
          <dt>{say.code}</dt>
          <dd>{who.code}</dd>
          <dt>{say.born}</dt>
          <dd>{who.birthDate}</dd>
        </dl>
      ) : (
        <p>
          {erasure?.erased
            ? say.erasedOn(dateOf(erasure.erased.at), named(erasure.askedBy), named(erasure.erased.confirmedBy))
            : say.unknown}
        </p>
      )}
      <div class="row">
        <a class="inbox-link" href={`/sheets/records/${studentId}`}>
          {say.print}
        </a>
        <Button kind="quiet" onPress={onAnother}>
          {say.another}
        </Button>
      </div>
    </section>
  )
}

const dateOf = (at: number): string => new Date(at).toISOString().slice(0, 10)
