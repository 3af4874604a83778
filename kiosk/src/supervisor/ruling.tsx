import { useState } from 'preact/hooks'
import type { InboxItem } from '@musterbook/day/views/inbox'
import type { ReviewId } from '@musterbook/vocabulary/ids'
import type { Ruling } from '@musterbook/vocabulary/review'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Field, Tick } from '../parts/field/field.tsx'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { showWhat, tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { whoIs } from './who.ts'

const rulings = ['counts', 'doesNotCount', 'retest', 'settled'] as const

interface Props {
  house: House
  item: InboxItem
  /** Those that wait for the same reason, this one among them. */
  alike: readonly InboxItem[]
  onDone: () => void
}

/** Counts, does not count, retest or settled, with its reason: for one, or for all that wait for the same reason. */
export function RulingForm({ house, item, alike, onDone }: Props) {
  const [ruling, choose] = useState<Ruling>('counts')
  const [reason, type] = useState('')
  const [wrong, setWrong] = useState('')
  const [chosen, tick] = useState<readonly string[]>([item.itemId])
  const [busy, setBusy] = useState(false)
  const { inbox: say } = words.supervisor
  const offered = rulings.filter((one) => one !== 'retest' || item.stationId)

  const save = async () => {
    if (busy) return
    setWrong(reason.trim() === '' ? words.station.moreReason : '')
    if (reason.trim() === '') return
    setBusy(true)
    const rule = (reviewId: string) => ({ reviewId: reviewId as ReviewId, ruling, reason: reason.trim() })
    if (chosen.length === 1) await tell(house, say.told(say.rulings[ruling]), 'rule', rule(chosen[0]!))
    else
      await showWhat(
        house,
        say.toldMany(chosen.length),
        // One after the other: each is a decision of its own in the record. The first "no" ends it and is shown.
        chosen.reduce<ReturnType<House['tell']>>(
          async (before, reviewId) => {
            const outcome = await before
            return outcome.said === 'recorded' ? house.tell('rule', rule(reviewId)) : outcome
          },
          Promise.resolve({ said: 'recorded', body: undefined }),
        ),
      )
    setBusy(false)
    onDone()
  }

  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      {alike.length > 1 && (
        <fieldset class="stack">
          <legend class="office-legend">{say.together}</legend>
          <div class="row">
            <Button size="small" onPress={() => tick(alike.map(({ itemId }) => itemId))}>
              {words.supervisor.board.filters.all} ({alike.length})
            </Button>
            <span role="status">{say.togetherHelp(chosen.length)}</span>
          </div>
          <div class="inbox-alike">
            {alike.map((one) => (
              <Tick
                key={one.itemId}
                says={one.studentId ? whoIs(house, one.studentId, one.bib) : (one.equipmentId ?? one.itemId)}
                checked={chosen.includes(one.itemId)}
                onChange={(on) => tick(on ? [...chosen, one.itemId] : chosen.filter((id) => id !== one.itemId))}
              />
            ))}
          </div>
        </fieldset>
      )}
      <Tabs
        label={say.ruling}
        labelled
        value={ruling}
        choices={offered.map((value) => ({ value, says: say.rulings[value], detail: say.rulingHelp[value] }))}
        onChange={(value) => choose(value as Ruling)}
      />
      <Field label={say.reason} hint={say.reasonHint} long value={reason} onInput={type} maxLength={2000} error={wrong || undefined} />
      <div class="row">
        <Button type="submit" kind="primary" busy={busy}>
          {chosen.length > 1 ? say.chosen(chosen.length) : say.save}
        </Button>
        <Button onPress={onDone}>{words.common.cancel}</Button>
      </div>
    </form>
  )
}
