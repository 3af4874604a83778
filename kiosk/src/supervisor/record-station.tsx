import { useState } from 'preact/hooks'
import type { BoardView } from '@musterbook/day/views/board'
import type { AttemptView } from '@musterbook/day/views/parts'
import type { RecordView } from '@musterbook/day/views/record'
import type { House } from '../house/house.ts'
import { may } from '../house/may.ts'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'
import { AttemptFacts, whichTry } from './attempt-facts.tsx'
import { CorrectDialog } from './correct.tsx'

interface Props {
  house: House
  board: BoardView
  record: RecordView
  station: RecordView['stations'][number]
}

/** One station of one student: the result with its basis and its working, then every try with everything that was changed on it. */
export function RecordStation({ house, board, record, station }: Props) {
  const [correcting, correct] = useState<AttemptView | undefined>(undefined)
  const { record: say, board: sayBoard } = words.supervisor
  const { result } = station
  return (
    <section class="sheet stack" aria-label={station.name}>
      <div class="office-line">
        <h3>{station.name}</h3>
        <p class="record-result">
          {result.says ? <strong class="figures">{result.says}</strong> : say.noResult}{' '}
          {sayBoard.result[result.state] && <span>({sayBoard.result[result.state]})</span>}
        </p>
      </div>
      {result.placing && result.group && result.table && (
        <p>
          {say.placing(result.placing, result.group, result.table)}
          {result.invented && `, ${say.invented}`}
          {result.notes.length > 0 && `. ${result.notes.map((note) => say.notes[note] ?? note).join(', ')}`}
        </p>
      )}
      <p class="quiet">{say.protocol(station.protocolId, station.protocolVersion, station.source)}</p>
      {station.attempts.length === 0 && <p>{say.noAttempts}</p>}
      {station.attempts.map((attempt) => (
        <div key={attempt.attemptId} class="record-attempt">
          <AttemptFacts house={house} attempt={attempt} />
          {may(house, 'correct') && attempt.status !== 'reassigned' && attempt.status !== 'released' && (
            <Button size="small" label={say.correctNamed(whichTry(attempt), station.name)} onPress={() => correct(attempt)}>
              {say.correct}
            </Button>
          )}
        </div>
      ))}
      {result.working.length > 0 && (
        <details class="record-working">
          <summary>{say.working}</summary>
          <div class="table-scroll" role="region" aria-label={`${say.working}: ${station.name}`} tabIndex={0}>
            <table class="table">
              <thead>
                <tr>
                  <th scope="col">{say.workingStep}</th>
                  <th scope="col">{words.refusal.rule}</th>
                  <th scope="col">{say.workingFrom}</th>
                  <th scope="col">{say.workingGives}</th>
                </tr>
              </thead>
              <tbody>
                {result.working.map((line, at) => (
                  <tr key={at}>
                    <td>{say.steps[line.step] ?? line.step}</td>
                    <td>{line.rule}</td>
                    <td>{line.from}</td>
                    <td>
                      <strong>{line.gives}</strong>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </details>
      )}
      {correcting && (
        <CorrectDialog
          house={house}
          board={board}
          record={record}
          station={station}
          opened={correcting}
          onClose={() => correct(undefined)}
        />
      )}
    </section>
  )
}
