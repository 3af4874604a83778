import { useMemo, useState } from 'preact/hooks'
import { whatIf, type Imagined, type Supposition } from '@musterbook/replay/what-if'
import { explain } from '@musterbook/replay/explain'
import type { StationId, StudentId } from '@musterbook/vocabulary/ids'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Choice } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { stationName, whoIs } from '../supervisor/who.ts'
import { raceTime } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { EntryName } from '@musterbook/replay/run-again'
import { valueSays } from '../supervisor/value-says.ts'
import { placeIn, type Desk } from './desk.ts'
import { FindStudent } from './student.tsx'
import { Moves } from './moves.tsx'
import type { Place } from './replay-screen.tsx'
import { saveAs } from './save.ts'
import { SupposeEntries } from './suppose-entries.tsx'
import { SupposeInstrument } from './suppose-instrument.tsx'
import { SupposeLap } from './suppose-lap.tsx'
import { writtenDown } from './study.tsx'
import { ruleName, SupposeRules, type SupposedRule } from './suppose-rules.tsx'
import { SupposeTry } from './suppose-try.tsx'
import { Watermark } from './watermark.tsx'

interface Props {
  desk: Desk
  place: Place
  onGo: (change: Partial<Place>) => void
  imagined: Imagined | undefined
  onImagine: (imagined: Imagined | undefined) => void
}

/** Supposes that something had been otherwise and shows who would move. It tells the site nothing. */
export function WhatIfPart({ desk, place, onGo, imagined, onImagine }: Props) {
  const [scope, choose] = useState<'one' | 'all'>('one')
  const [isUnwritten, setUnwritten] = useState(false)
  const { whatIf: say } = words.replay
  const { studentId, stationId } = place
  const stations = desk.house.day.value?.stations ?? []
  const touching = useMemo(
    () => explain(desk.now, desk.entries, studentId as StudentId, stationId as StationId)?.all ?? [],
    [desk, studentId, stationId],
  )
  if (!desk.now.students.has(studentId as StudentId)) return <FindStudent desk={desk} onChoose={(chosen) => onGo({ studentId: chosen })} />
  const suppositions = imagined?.suppositions ?? []
  const suppose = (more: readonly Supposition[]) => onImagine(whatIf(desk.dayId, desk.entries, [...suppositions, ...more]))
  // Over a class it is a study, and that somebody made one is written down.
  const supposeRules = async (rules: readonly SupposedRule[]) => {
    const isWritten = await writtenDown(desk.house, [desk.dayId], rules)
    setUnwritten(!isWritten)
    if (isWritten) suppose(rules)
  }
  const student = desk.now.students.get(studentId as StudentId)
  const moves = (imagined?.moves ?? []).filter((one) => scope === 'all' || one.studentId === studentId)
  const movers = new Set(moves.map((one) => one.studentId)).size
  return (
    <div class="stack">
      <p>{say.help}</p>
      <div class="supervisor-pair">
        <Choice
          label={words.replay.whatIf.student}
          value={studentId}
          choices={[...desk.now.students.values()].map((one) => ({
            value: one.studentId,
            says: whoIs(desk.house, one.studentId, one.bib),
          }))}
          onChange={(chosen) => onGo({ studentId: chosen })}
        />
        <Choice
          label={words.replay.test}
          value={stationId}
          blank={words.supervisor.replay.any}
          choices={stations.map((one) => ({ value: one.stationId, says: one.name }))}
          onChange={(chosen) => onGo({ stationId: chosen })}
        />
      </div>
      <Watermark>
        <section class="stack" aria-live="polite">
          <h2>{say.supposed}</h2>
          {suppositions.length === 0 ? (
            <p>{say.nothing}</p>
          ) : (
            <ul class="record-facts">
              {suppositions.map((one, at) => (
                <li key={at}>{suppositionSays(desk, one)}</li>
              ))}
            </ul>
          )}
          {imagined && (
            <>
              <Tabs
                label={say.scope}
                labelled
                value={scope}
                choices={(['one', 'all'] as const).map((value) => ({ value, says: say.scopes[value] }))}
                onChange={(value) => choose(value as 'one' | 'all')}
              />
              <p>{say.applied(movers)}</p>
              {moves.length === 0 ? (
                <EmptyState says={say.noMoves} />
              ) : (
                <Moves desk={desk} caption={say.moves} moves={moves} before={say.before} after={say.after} />
              )}
              <div class="row">
                <Button kind="quiet" onPress={() => saveAs('what-if.json', dataOf(imagined, moves))}>
                  {words.replay.download}
                </Button>
                <Button onPress={() => onImagine(undefined)}>{say.clear}</Button>
              </div>
            </>
          )}
        </section>
      </Watermark>
      <div class="replay-suppose">
        <SupposeLap attempts={student?.attempts ?? []} studentId={studentId} onSuppose={suppose} />
        <SupposeInstrument key={`scale ${studentId}`} desk={desk} studentId={studentId} onSuppose={suppose} />
        <SupposeTry key={stationId} desk={desk} studentId={studentId} stationId={stationId} onSuppose={suppose} />
        <SupposeRules desk={desk} onSuppose={(rules) => void supposeRules(rules)} />
      </div>
      <p role="status">{isUnwritten ? words.replay.study.failed : ''}</p>
      {touching.length > 0 && <SupposeEntries desk={desk} touching={touching} onSuppose={suppose} />}
    </div>
  )
}

/** Carries its watermark wherever it is taken. */
const dataOf = ({ imagined, watermark, suppositions }: Imagined, moves: Imagined['moves']) => ({ imagined, watermark, suppositions, moves })

function suppositionSays(desk: Desk, one: Supposition): string {
  const { says } = words.replay.whatIf
  const named = (names: readonly EntryName[]) => names.map((name) => placeIn(desk.entries, name) + 1).join(', ')
  switch (one.kind) {
    case 'leaveOut':
      return says.leaveOut(named(one.entries))
    case 'shift':
      return says.shift(named(one.entries), String(one.ms / 1000))
    case 'inferLap':
      return says.inferLap(raceTime(Math.floor(one.elapsedMs / 10), 0))
    case 'insertTry':
      return says.insertTry(valueSays(one.value), stationName(desk.house, one.stationId))
    case 'norms':
      return says.norms(ruleName(one))
    case 'protocol':
      return says.protocol(ruleName(one))
    case 'instrument':
      return 'constant' in one.model
        ? says.constant(one.equipmentId, String(one.model.constant))
        : says.proportional(one.equipmentId, String(one.model.proportionalMillionths / 10_000))
  }
}
