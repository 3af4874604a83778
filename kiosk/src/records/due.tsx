import { useState } from 'preact/hooks'
import type { Due, DueRecord } from '@musterbook/gateway/due'
import type { ErasureReason } from '@musterbook/vocabulary/records'
import type { House } from '../house/house.ts'
import { askOffice } from '../office/ask.ts'
import { useFetched } from '../office/fetched.ts'
import { mayAsk } from '../office/may.ts'
import { Button } from '../parts/button/button.tsx'
import { ConfirmDialog, Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'

type Told = Due['erasures'][number]

/** What the schedule says is over, and the two steps by which people end it. */
export function DuePart({ house }: { house: House }) {
  const fetched = useFetched<Due>(house, '/api/records/due')
  const [asking, ask] = useState<DueRecord | undefined>(undefined)
  const [confirming, confirm] = useState<Told | undefined>(undefined)
  const [narrow, narrowBy] = useState('')
  const say = words.records
  const due = fetched.value
  if (!due) return <p role="status">{fetched.failed ? say.failed : words.office.loading}</p>
  const sought = narrow.trim().toLocaleLowerCase()
  const shown = due.due.filter(({ name, code }) => `${name} ${code}`.toLocaleLowerCase().includes(sought))
  const tell = async (what: string, noun: string, body: object) => {
    await askOffice(house, what, noun, body)
    await fetched.refresh()
  }
  return (
    <div class="stack">
      <h2>{say.due}</h2>
      <p>{say.dueHelp}</p>
      <p>{due.policy ? say.duePolicy(due.policy) : say.noDuePolicy}</p>
      <h3>{say.erasures}</h3>
      {due.erasures.length === 0 && <p>{say.noErasures}</p>}
      <ul class="office-list">
        {due.erasures.map((one) => (
          <li key={one.studentId} class="office-line">
            <Erasing
              house={house}
              one={one}
              onConfirm={() => confirm(one)}
              onWithdraw={() => void tell(say.withdrawn, 'erasure-withdrawals', { studentId: one.studentId })}
            />
          </li>
        ))}
      </ul>
      {due.due.length > 10 && (
        <>
          <p>{say.dueCount(due.due.length, due.due.filter(({ heldBy }) => heldBy).length)}</p>
          <Field label={say.narrow} value={narrow} onInput={narrowBy} />
        </>
      )}
      <DataTable<DueRecord>
        caption={say.due}
        captionSpoken
        rows={shown}
        rowKey={(one) => one.studentId}
        empty={{ says: due.due.length === 0 ? say.noneDue : say.noneNarrowed }}
        columns={[
          { key: 'name', head: words.office.roster.name, names: true, cell: (one) => <bdi>{one.name}</bdi> },
          { key: 'code', head: say.code, cell: (one) => one.code },
          { key: 'last', head: say.lastTested, cell: (one) => one.lastTested },
          { key: 'since', head: say.since, cell: (one) => one.since, sortBy: (one) => one.since },
          {
            key: 'hold',
            head: say.holding,
            cell: (one) => (one.heldBy ? <Mark state="waiting" says={say.held} /> : say.notHeld),
          },
          {
            key: 'act',
            head: say.erase,
            cell: (one) =>
              mayAsk(house, 'askErasure') && !due.erasures.some(({ studentId }) => studentId === one.studentId) ? (
                <Button size="small" label={say.eraseNamed(one.name)} onPress={() => ask(one)}>
                  {say.erase}
                </Button>
              ) : (
                ''
              ),
          },
        ]}
      />
      {asking && (
        <AskErasure
          one={asking}
          onClose={() => ask(undefined)}
          onAsk={(because) => {
            ask(undefined)
            void tell(say.asked, 'erasure-requests', { studentId: asking.studentId, because })
          }}
        />
      )}
      <ConfirmDialog
        title={say.confirm}
        open={confirming !== undefined}
        confirm={say.confirm}
        onClose={() => confirm(undefined)}
        onConfirm={() => {
          confirm(undefined)
          if (confirming) void tell(say.erased, 'erasures', { studentId: confirming.studentId })
        }}
      >
        <p>{say.confirmSure(confirming?.name ?? '')}</p>
        <p>{say.eraseWhat}</p>
        <p>{say.eraseNot}</p>
      </ConfirmDialog>
    </div>
  )
}

function Erasing({ house, one, onConfirm, onWithdraw }: { house: House; one: Told; onConfirm: () => void; onWithdraw: () => void }) {
  const say = words.records
  const name = one.name ?? say.gone
  const me = house.session.value?.person?.personId
  return (
    <>
      <span>
        <strong>{name}</strong>: {say.becauses[one.because]}, {say.askedBy(one.askedByName, dateOf(one.askedAt))}
        {one.erased && `, ${say.confirmedBy(one.confirmedByName ?? '', dateOf(one.erased.at))}`}
      </span>
      <Mark state={one.erased ? 'done' : 'waiting'} says={one.erased ? say.gone : say.waits} />
      {!one.erased && mayAsk(house, 'confirmErasure') && (
        <span class="row">
          {one.askedBy !== me && (
            <Button size="small" label={say.confirmNamed(name)} onPress={onConfirm}>
              {say.confirm}
            </Button>
          )}
          <Button size="small" label={say.withdrawNamed(name)} onPress={onWithdraw}>
            {say.withdraw}
          </Button>
        </span>
      )}
    </>
  )
}

function AskErasure({ one, onAsk, onClose }: { one: DueRecord; onAsk: (because: ErasureReason) => void; onClose: () => void }) {
  const [because, choose] = useState<ErasureReason>('due')
  const say = words.records
  return (
    <Dialog
      title={say.eraseNamed(one.name)}
      open
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={() => onAsk(because)}>
          {say.erase}
        </Button>
      }
    >
      <div class="stack">
        <p>{say.eraseWhat}</p>
        <p>{say.eraseNot}</p>
        <Choice
          label={say.because}
          value={because}
          choices={(['due', 'asked'] as const).map((value) => ({ value, says: say.becauses[value] }))}
          onChange={(value) => choose(value as ErasureReason)}
        />
      </div>
    </Dialog>
  )
}

const dateOf = (at: number): string => new Date(at).toISOString().slice(0, 10)
