import type { Case } from '@musterbook/vocabulary/case'
import { digest } from '@musterbook/evidence/canonical'
import { picturesOf } from '@musterbook/day/views/pictures'
import { recordView } from '@musterbook/day/views/record'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { CheckedPicture } from '../parts/evidence-photo/evidence-photo.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { whoIs } from '../supervisor/who.ts'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { CaseDecision } from './case-decision.tsx'
import { CaseEnd } from './case-end.tsx'
import { Part, type CasePart, staff } from './case-part.tsx'
import { CaseWords } from './case-words.tsx'
import type { Desk } from './desk.ts'
import type { Place } from './replay-screen.tsx'

interface Props {
  desk: Desk
  caseId: string
  onGo: (change: Partial<Place>) => void
}

/** One case, from its question to its letter. */
export function CasePage({ desk, caseId, onGo }: Props) {
  const fetched = useFetched<Case>(desk.house, `/api/cases/${encodeURIComponent(caseId)}`)
  const one = fetched.value
  const { cases: say } = words.replay
  if (!one) return <p role="status">{fetched.failed ? words.replay.failed : words.office.loading}</p>
  const part: CasePart = { desk, one, onTold: () => void fetched.refresh() }
  const student = desk.now.students.get(one.studentId)
  return (
    <div class="stack">
      <section class="sheet stack" aria-label={say.kinds[one.kind]}>
        <h2>
          {whoIs(desk.house, one.studentId, student?.bib ?? null)}: {say.kinds[one.kind]}
        </h2>
        <p>
          <Mark state={one.state === 'closed' ? 'done' : 'waiting'} says={say.states[one.state]} />
        </p>
        <p class="step-words">{words.replay.typed(one.question)}</p>
        <p>{say.dates(one.receivedOn, one.answerBy)}</p>
        <p class="quiet">
          {one.deletionHeld && say.held} {one.keepUntil && say.kept(one.keepUntil)}
        </p>
        <div class="row">
          <Button onPress={() => onGo({ part: 'student', studentId: one.studentId, stationId: one.stationId ?? '' })}>
            {words.replay.explain}
          </Button>
          <Button kind="quiet" onPress={() => onGo({ caseId: '' })}>
            {say.back}
          </Button>
        </div>
      </section>
      <Exhibits {...part} onGo={onGo} />
      <Pictures {...part} />
      <CaseWords {...part} />
      <CaseDecision {...part} />
      <CaseEnd {...part} />
    </div>
  )
}

/** Each exhibit is computed here again, from the same entries: whoever looks sees that it is the same record. */
function Exhibits({ desk, one, onGo }: CasePart & { onGo: Props['onGo'] }) {
  const { cases: say } = words.replay
  return (
    <Part title={say.exhibits}>
      {one.exhibits.length === 0 && <p>{say.noExhibits}</p>}
      <ol class="stack">
        {one.exhibits.map((exhibit) => {
          const record = recordView(desk.at(exhibit.entries, 'recorded'), one.studentId)
          const isSame = record !== null && digest(record) === exhibit.recordDigest
          return (
            <li key={exhibit.exhibitId} class="stack">
              <p>
                <strong>{say.exhibit(exhibit.entries, wallClock(exhibit.recordedAt, desk.zone, true))}</strong>: {exhibit.note}
              </p>
              <p class="replay-digest">{say.digest(exhibit.recordDigest)}</p>
              <p>{isSame ? say.hereMatches : say.hereDiffers}</p>
              <div class="row">
                <Button size="small" onPress={() => onGo({ part: 'moment', position: exhibit.entries, studentId: one.studentId })}>
                  {words.replay.stand}
                </Button>
              </div>
            </li>
          )
        })}
      </ol>
    </Part>
  )
}

/** What was photographed beside the readings of this student and of nobody else, each held against its digest as it is shown. */
function Pictures({ desk, one }: CasePart) {
  const { cases: say } = words.replay
  const record = recordView(desk.now, one.studentId)
  const pictures = record ? picturesOf(record) : []
  return (
    <Part title={say.pictures}>
      {pictures.length === 0 && <p>{say.noPictures}</p>}
      <ol class="case-pictures">
        {pictures.map(({ photoDigest, station, number, official, at, personId }) => (
          <li key={`${photoDigest} ${at}`}>
            <figure>
              <figcaption>
                {say.picture(station, number, official, wallClock(at, desk.zone, true), personId ? staff(desk, personId) : '')}
              </figcaption>
              <CheckedPicture photoDigest={photoDigest} />
            </figure>
          </li>
        ))}
      </ol>
    </Part>
  )
}
