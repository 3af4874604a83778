import { useState } from 'preact/hooks'
import type { InboxItem, InboxView } from '@musterbook/day/views/inbox'
import type { ObservationId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { may } from '../house/may.ts'
import { Button } from '../parts/button/button.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Shape } from '../parts/mark/mark.tsx'
import { tell } from '../shell/shell.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { Evidence } from './evidence.tsx'
import { KeptItems } from './kept-items.tsx'
import { RulingForm } from './ruling.tsx'
import { whoIs, stationName, staffName } from './who.ts'

interface Props {
  house: House
  inbox: InboxView
  onOpen: (studentId: string) => void
}

/** Where what the supervisor does not decide is decided. */
const elsewhere: Partial<Record<InboxItem['kind'], { path: string; name: string }>> = {
  stop: { path: '/medical', name: 'Medical' },
  referral: { path: '/medical', name: 'Medical' },
  disposition: { path: '/safety', name: 'Safety' },
  coolDown: { path: '/floor', name: 'Floor' },
}

/** Everything that waits for a person, oldest first, with what is recorded and the act that decides it. */
export function Inbox({ house, inbox, onOpen }: Props) {
  const [open, setOpen] = useState<string | undefined>(undefined)
  const { inbox: say } = words.supervisor
  const decides = may(house, 'rule')
  const zone = house.day.value?.timeZone ?? 'UTC'
  const now = house.clock.now.value
  return (
    <div class="stack">
      {decides && <KeptItems house={house} />}
      <section class="stack">
        <h2>{say.title}</h2>
        <p class="quiet">{say.help}</p>
        {inbox.items.length === 0 ? (
          <EmptyState says={say.empty} />
        ) : (
          <ol class="inbox">
            {inbox.items.map((item) => (
              <li key={item.itemId} class="sheet inbox-item" data-kind={item.kind}>
                <Shape state={item.kind === 'stop' ? 'stopped' : item.kind === 'disposition' ? 'hold' : 'review'} />
                <div class="inbox-what">
                  <h3>{said(item)}</h3>
                  <p>
                    {[
                      item.studentId && whoIs(house, item.studentId, item.bib),
                      item.station,
                      item.equipmentId && say.equipment(item.equipmentId),
                    ]
                      .filter(Boolean)
                      .join(', ')}
                  </p>
                  <p class="quiet figures">
                    {item.since > 0 && say.since(wallClock(item.since, zone), shortDuration(now - item.since))} {say.who(item.who)}
                  </p>
                </div>
                <div class="row inbox-acts">
                  {item.studentId && (
                    <Button
                      size="small"
                      label={`${words.supervisor.tabs.record}: ${whoIs(house, item.studentId, item.bib)}`}
                      onPress={() => onOpen(item.studentId!)}
                    >
                      {words.supervisor.tabs.record}
                    </Button>
                  )}
                  <Way
                    house={house}
                    item={item}
                    decides={decides}
                    open={open === item.itemId}
                    onOpen={() => setOpen(open === item.itemId ? undefined : item.itemId)}
                  />
                </div>
                {open === item.itemId && (
                  <div class="inbox-more">
                    {item.studentId && <Evidence house={house} item={item} />}
                    <RulingForm house={house} item={item} alike={alike(inbox.items, item)} onDone={() => setOpen(undefined)} />
                  </div>
                )}
              </li>
            ))}
          </ol>
        )}
      </section>
      <section class="stack">
        <h2>{say.refusals}</h2>
        <p class="quiet">{say.refusalsHelp}</p>
        <DataTable<InboxView['refusals'][number]>
          caption={say.refusals}
          captionSpoken
          empty={{ says: say.noRefusals }}
          rows={[...inbox.refusals].reverse()}
          rowKey={(one) => `${one.version}.${one.rule}`}
          columns={[
            { key: 'when', head: say.when, cell: (one) => wallClock(one.at, zone, true) },
            {
              key: 'what',
              head: say.refusal,
              names: true,
              cell: (one) => refusalSays(one.rule),
            },
            {
              key: 'about',
              head: say.about,
              cell: (one) =>
                [one.studentId && whoIs(house, one.studentId, one.bib), stationName(house, one.stationId), staffName(house, one.personId)]
                  .filter(Boolean)
                  .join(', '),
            },
          ]}
        />
      </section>
    </div>
  )
}

/** What happened, in one sentence. */
const said = (item: InboxItem): string => words.supervisor.inbox.because[item.because] ?? words.supervisor.inbox.anomaly(item.because)

/** The list keeps no figures of a refusal, so one that would name them is said by its rule. */
function refusalSays(rule: string): string {
  const known = words.refusals[rule as keyof typeof words.refusals]
  const sentence = known?.says({}) ?? rule
  return sentence.includes('undefined')
    ? `${words.refusal.title}: ${rule.replaceAll(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`)}`
    : sentence
}

const alike = (items: readonly InboxItem[], item: InboxItem): InboxItem[] =>
  items.filter(
    (one) => one.kind === 'review' && one.because === item.because && one.equipmentId === item.equipmentId && one.holdId === item.holdId,
  )

interface WayProps {
  house: House
  item: InboxItem
  decides: boolean
  open: boolean
  onOpen: () => void
}

/** The act that decides it, or the screen where somebody else does. */
function Way({ house, item, decides, open, onOpen }: WayProps) {
  const { inbox: say } = words.supervisor
  const place = item.because === 'clearanceConflict' ? { path: '/medical', name: 'Medical' } : elsewhere[item.kind]
  if (place)
    return (
      <a class="inbox-link" href={place.path}>
        {say.goTo(place.name)}
      </a>
    )
  if (item.kind === 'call')
    return (
      <Button size="small" onPress={() => void tell(house, say.callAnswered, 'answerCall', { callId: item.itemId as ObservationId })}>
        {say.answerCall}
      </Button>
    )
  if (item.kind !== 'review' || !decides) return null
  const who = item.studentId ? whoIs(house, item.studentId, item.bib) : (item.equipmentId ?? '')
  return (
    <Button size="small" pressed={open} label={`${say.decide}: ${said(item)}${who && `, ${who}`}`} onPress={onOpen}>
      {say.decide}
    </Button>
  )
}
