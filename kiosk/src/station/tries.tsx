import { useState } from 'preact/hooks'
import type { AttemptView } from '@musterbook/day/views/parts'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import type { ReadingUnit } from '@musterbook/stations/units'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { EvidencePhoto } from '../parts/evidence-photo/evidence-photo.tsx'
import { Mark, type State } from '../parts/mark/mark.tsx'
import { figure } from '../words/figures.ts'
import { inFigures } from '../words/values.ts'
import { words } from '../words/words.ts'
import type { OpenTry, StationActs } from './acts.ts'
import { faultInWords } from './fault-words.ts'
import { MendDialog } from './mend-dialog.tsx'

interface Props {
  house: House
  view: StationView
  student: StationStudent
  acts: StationActs
  onSecond: (tried: OpenTry) => void
}

/** What was tried here so far and what it comes to, with group and table. Nothing is edited: mending adds to it. */
export function Tries({ house, view, student, acts, onSecond }: Props) {
  const [mending, mend] = useState<AttemptView | null>(null)
  const { protocol } = view
  const takesSecond = protocol.kind !== 'skinfold' && protocol.kind !== 'loaded'
  const last = student.attempts.findLast((attempt) => attempt.status === 'recorded')
  return (
    <section class="tries" aria-labelledby="tries">
      <h2 id="tries">{words.station.tries}</h2>
      <Result student={student} />
      {student.attempts.length === 0 ? (
        <p>{words.station.noTries}</p>
      ) : (
        <ol>
          {student.attempts.map((attempt) => (
            <li key={attempt.attemptId} class="try">
              <span class="try-which">{whichOf(attempt)}</span>
              <span class="try-value figures">{valueOf(attempt)}</span>
              <Marks attempt={attempt} />
              <span class="try-keys">
                {attempt.observations.map(({ observationId, photoDigest, fromPaper }) => (
                  <EvidencePhoto key={observationId} photoDigest={photoDigest ?? fromPaper?.photoDigest} />
                ))}
                {takesSecond && attempt === last && attempt.observations.length === 1 && (
                  <Button size="small" kind="quiet" onPress={() => onSecond(secondOf(student, attempt))}>
                    {words.station.secondReading}
                  </Button>
                )}
                {isMendable(attempt) && (
                  <Button size="small" label={words.station.mendNamed(whichOf(attempt))} onPress={() => mend(attempt)}>
                    {words.station.mend}
                  </Button>
                )}
              </span>
            </li>
          ))}
        </ol>
      )}
      {mending && (
        <MendDialog
          key={mending.attemptId}
          house={house}
          view={view}
          student={student}
          attempt={mending}
          acts={acts}
          onClose={() => mend(null)}
        />
      )}
    </section>
  )
}

/** The provisional result with the basis of its percentile, small: it is no verdict. */
function Result({ student: { result } }: { student: StationStudent }) {
  if (result.state === 'none') return null
  const places = result.placing && result.group && result.table ? words.station.placing(result.placing, result.group, result.table) : null
  return (
    <p class="tries-result">
      <strong class="figures">
        {words.station.resultState[result.state]}
        {result.amount !== null && `: ${inFigures(result.amount, result.unit)}`}
      </strong>
      {places && <span>{places}</span>}
    </p>
  )
}

export const whichOf = ({ official, number }: Pick<AttemptView, 'official' | 'number'>): string =>
  !official ? words.station.practice : number > 0 ? words.station.tryN(number) : words.station.entryUnseen(words.station.official)

const isMendable = ({ status }: AttemptView) => status === 'recorded' || status === 'void' || status === 'interrupted'

const secondOf = (student: StationStudent, { attemptId, official, number, load }: AttemptView): OpenTry => ({
  studentId: student.studentId,
  attemptId,
  official,
  number,
  load,
})

/** What was read; once corrected, what it was corrected to, and what stood there first beside it. */
function valueOf({ observations, load, corrected }: AttemptView): string {
  const said = observations.map(({ outcome, value, fault, percentFatHundredths, folds }) => {
    if (outcome !== 'good') return `${words.station.outcome[outcome]}${fault ? `: ${faultInWords(fault)}` : ''}`
    if (value) return inFigures(value.amount, value.unit as ReadingUnit)
    if (percentFatHundredths !== null) return words.station.derived(figure(Math.floor((percentFatHundredths + 5) / 10) / 10, 1))
    return words.station.foldsSaved(folds.length)
  })
  const loaded =
    load && observations.some(({ outcome }) => outcome !== 'good') ? `${inFigures(load.amount, load.unit as ReadingUnit)} ` : ''
  const first = loaded + said.join(words.station.and)
  return corrected ? words.station.correctedFrom(inFigures(corrected.amount, corrected.unit as ReadingUnit), first) : first
}

function Marks({ attempt }: { attempt: AttemptView }) {
  const marks = marksOf(attempt)
  if (marks.length === 0) return null
  return (
    <span class="try-marks">
      {marks.map(([state, says]) => (
        <Mark key={says} state={state} says={says} />
      ))}
    </span>
  )
}

/** Two readings that say the same closed by themselves. */
function readingsAgree(observations: AttemptView['observations']): boolean {
  const [first, ...others] = observations.flatMap(({ value }) => value ?? [])
  return first !== undefined && others.length > 0 && others.every(({ amount, unit }) => amount === first.amount && unit === first.unit)
}

function marksOf({ status, extra, observations, openReviews, corrections }: AttemptView): [State, string][] {
  const { station } = words
  return [
    ...(status === 'recorded' ? [] : [[status === 'underWay' ? 'underWay' : 'withdrawn', station.status[status]] as [State, string]]),
    ...(extra ? [['blocked', station.status.extra] as [State, string]] : []),
    ...(openReviews.length > 0 ? [['review', station.waits] as [State, string]] : []),
    ...(openReviews.length === 0 && readingsAgree(observations) ? [['done', station.agreed] as [State, string]] : []),
    ...(observations.some((one) => one.keptUnusual) ? [['unknown', station.kept] as [State, string]] : []),
    ...(corrections.some(({ kind }) => kind !== 'void' || status !== 'void') ? [['limited', station.corrected] as [State, string]] : []),
  ]
}
