import { useState } from 'preact/hooks'
import type { Finding } from '@musterbook/vocabulary/case'
import type { DayEvent } from '@musterbook/vocabulary/events'
import { Button } from '../parts/button/button.tsx'
import { Choice, Field, Tick } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { mayCase, tellCase } from './case-acts.ts'
import { Part, staff, type CasePart } from './case-part.tsx'

/** Drafted by one, approved by another; its corrections stand on the record and are named here. */
export function CaseDecision(part: CasePart) {
  const { desk, one, onTold } = part
  const { cases: say } = words.replay
  const decided = one.decisions.some(({ approved }) => approved)
  const approve = async (decisionId: string) => {
    const said = await tellCase(desk.house, say.approved, 'approveDecision', { caseId: one.caseId, decisionId })
    if (said.said === 'recorded') onTold()
  }
  const clock = (at: number) => wallClock(at, desk.zone, true)
  return (
    <Part title={say.decision}>
      {one.decisions.map((each) => (
        <div key={each.decisionId} class="stack">
          <p>
            <strong>{say.findings[each.finding]}</strong>: {each.reasons}
          </p>
          <p>{say.draftedBy(staff(desk, each.draftedBy), clock(each.draftedAt))}</p>
          <ul class="record-facts">
            {one.exhibits
              .filter(({ exhibitId }) => each.cites.includes(exhibitId))
              .map((exhibit) => (
                <li key={exhibit.exhibitId}>
                  {say.cites}: {say.exhibit(exhibit.entries, clock(exhibit.recordedAt))}{' '}
                  <span class="replay-digest">{exhibit.recordDigest}</span>
                </li>
              ))}
          </ul>
          {each.approved && <p>{say.approvedBy(staff(desk, each.approved.by), clock(each.approved.at))}</p>}
          {each.returned && <p>{say.returnedBy(staff(desk, each.returned.by), each.returned.because)}</p>}
          {!each.approved && !each.returned && (
            <>
              <p>{say.waits}</p>
              {mayCase(desk.house, 'approveDecision') && (
                <div class="row">
                  <Button onPress={() => void approve(each.decisionId)}>{say.approve}</Button>
                </div>
              )}
              {mayCase(desk.house, 'returnDecision') && <SendBack {...part} decisionId={each.decisionId} />}
            </>
          )}
        </div>
      ))}
      {!decided && one.closedAt === null && mayCase(desk.house, 'draftDecision') && <Draft {...part} />}
      {decided && <Corrections {...part} />}
    </Part>
  )
}

function SendBack({ desk, one, onTold, decisionId }: CasePart & { decisionId: string }) {
  const [because, write] = useState('')
  const { cases: say } = words.replay
  const send = async () => {
    const said = await tellCase(desk.house, say.returned, 'returnDecision', { caseId: one.caseId, decisionId, because })
    if (said.said === 'recorded') onTold()
  }
  return (
    <form class="stack" onSubmit={(event) => (event.preventDefault(), void send())}>
      <Field label={say.why} value={because} onInput={write} />
      <Button type="submit" kind="quiet">
        {say.return}
      </Button>
    </form>
  )
}

function Draft({ desk, one, onTold }: CasePart) {
  const [finding, choose] = useState<Finding | ''>('')
  const [reasons, write] = useState('')
  const [cites, cite] = useState<readonly string[]>(one.exhibits.map(({ exhibitId }) => exhibitId))
  const { cases: say } = words.replay
  const draft = async () => {
    const said = await tellCase(desk.house, say.drafted, 'draftDecision', { caseId: one.caseId, finding, reasons, cites })
    if (said.said === 'recorded') onTold()
  }
  return (
    <form class="stack" onSubmit={(event) => (event.preventDefault(), void draft())}>
      <Tabs
        label={say.finding}
        labelled
        value={finding}
        choices={(Object.keys(say.findings) as Finding[]).map((value) => ({ value, says: say.findings[value] }))}
        onChange={(value) => choose(value as Finding)}
      />
      <Field label={say.reasons} long value={reasons} onInput={write} maxLength={4000} />
      {one.exhibits.map(({ exhibitId, entries, recordedAt }) => (
        <Tick
          key={exhibitId}
          says={`${say.cites}: ${say.exhibit(entries, wallClock(recordedAt, desk.zone, true))}`}
          checked={cites.includes(exhibitId)}
          onChange={(isOn) => cite(isOn ? [...cites, exhibitId] : cites.filter((each) => each !== exhibitId))}
        />
      ))}
      <Button type="submit">{say.draft}</Button>
    </form>
  )
}

/** Those of this student that the record holds and the case does not name yet. */
function Corrections({ desk, one, onTold }: CasePart) {
  const [chosen, choose] = useState('')
  const { cases: say } = words.replay
  const made = desk.entries.flatMap((entry) =>
    (entry.events as readonly DayEvent[]).flatMap((event) =>
      event.type === 'corrected' && event.studentId === one.studentId ? [{ id: event.correctionId as string, at: entry.recordedAt }] : [],
    ),
  )
  const open = made.filter(({ id }) => !one.corrections.some(({ correctionId }) => correctionId === id))
  const correctionId = chosen || (open[0]?.id ?? '')
  const refer = async () => {
    const said = await tellCase(desk.house, say.referred, 'referCorrection', { caseId: one.caseId, correctionId })
    if (said.said === 'recorded') onTold()
  }
  return (
    <div class="stack">
      <h4>{say.corrections}</h4>
      <p class="quiet screen-only">{say.correctionsHelp}</p>
      {one.corrections.length === 0 && <p>{say.noCorrections}</p>}
      <ul class="record-facts">
        {one.corrections.map((each) => (
          <li key={each.correctionId}>{say.correction(each.correctionId, each.stream, each.version)}</li>
        ))}
      </ul>
      {one.closedAt === null && open.length > 0 && mayCase(desk.house, 'referCorrection') && (
        <form class="stack" onSubmit={(event) => (event.preventDefault(), void refer())}>
          <Choice
            label={say.whichCorrection}
            value={correctionId}
            choices={open.map(({ id, at }) => ({ value: id, says: `${wallClock(at, desk.zone, true)} ${id}` }))}
            onChange={choose}
          />
          <Button type="submit">{say.refer}</Button>
        </form>
      )}
    </div>
  )
}
