import { useEffect, useState } from 'preact/hooks'
import type { ItemShown } from '@musterbook/gateway/routes/kept-items'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Shape } from '../parts/mark/mark.tsx'
import { shortDuration, wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'

const lookMs = 10_000

/** What a tablet had kept and the server could not read: whole, until somebody has done by hand what was to be done. */
export function KeptItems({ house }: { house: House }) {
  const [items, set] = useState<readonly ItemShown[]>([])
  const say = words.supervisor.keptItems
  const look = async () => {
    const heard = await house.api.get<ItemShown[]>('/api/kept-items')
    if (heard.said === 'recorded') set(heard.body.filter(({ settledBy }) => settledBy === null))
  }
  useEffect(() => {
    void look()
    const timer = setInterval(() => void look(), lookMs)
    return () => clearInterval(timer)
  }, [house])
  if (items.length === 0) return null
  return (
    <section class="stack" aria-labelledby="kept-items">
      <h2 id="kept-items">{say.title}</h2>
      <p class="quiet">{say.help}</p>
      <ol class="inbox">
        {items.map((item) => (
          <KeptItem key={item.number} house={house} item={item} onSettled={() => void look()} />
        ))}
      </ol>
    </section>
  )
}

function KeptItem({ house, item, onSettled }: { house: House; item: ItemShown; onSettled: () => void }) {
  const [text, show] = useState<string | undefined>(undefined)
  const say = words.supervisor.keptItems
  const zone = house.day.value?.timeZone ?? 'UTC'
  const read = async () => {
    const heard = await house.api.get<{ text: string }>(`/api/kept-items/${item.number}`)
    if (heard.said === 'recorded') show(heard.body.text)
  }
  const settle = async () => {
    const heard = await house.api.post(`/api/kept-items/${item.number}/settlement`, {})
    if (heard.said === 'recorded') onSettled()
  }
  return (
    <li class="sheet inbox-item">
      <Shape state="review" />
      <div class="inbox-what">
        <h3>{say.item(item.number, item.device)}</h3>
        <p>
          {say.because[item.because]}
          {item.act !== null && ` ${say.act(item.act)}`}
        </p>
        <p class="quiet figures">
          {words.supervisor.inbox.since(wallClock(item.keptAt, zone), shortDuration(house.clock.now.value - item.keptAt))}
          {item.personId !== null && ` ${words.common.by(house.staff.value.get(item.personId) ?? item.personId)}`}
        </p>
        {text !== undefined && <pre class="kept-item">{text}</pre>}
      </div>
      <div class="row inbox-acts">
        {text === undefined ? (
          <Button size="small" label={`${say.read}: ${item.number}`} onPress={() => void read()}>
            {say.read}
          </Button>
        ) : (
          <Button size="small" label={`${say.settle}: ${item.number}`} onPress={() => void settle()}>
            {say.settle}
          </Button>
        )}
      </div>
    </li>
  )
}
