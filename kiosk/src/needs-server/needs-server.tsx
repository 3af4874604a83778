import { currentDay } from '../house/current-day.ts'
import { keptFacts } from '../house/facts.ts'
import { openStore } from '../house/store.ts'
import { Button } from '../parts/button/button.tsx'
import { showCard } from '../shell/emergency-card.tsx'
import { words } from '../words/words.ts'
import './needs-server.css'

/** Where a screen would stand that the server alone can show, while it is not reached: what opens without it. */
export function NeedsServer() {
  const say = words.needsServer
  return (
    <main class="needs-server stack">
      <h1>{say.title}</h1>
      <p>{say.help}</p>
      <p>
        <a class="button button-primary" href={location.href}>
          {say.again}
        </a>
      </p>
      <p>
        <Button onPress={() => void openKeptCard()}>{words.frame.card}</Button>
      </p>
      <h2>{say.others}</h2>
      <ul class="needs-server-screens">
        {Object.entries(say.screens).map(([screen, name]) => (
          <li key={screen}>
            <a class="button" href={`/${screen}`}>
              {name}
            </a>
          </li>
        ))}
      </ul>
      <p class="caution">{words.caution.defers}</p>
    </main>
  )
}

/** The card that this device kept when it last knew of a day. */
async function openKeptCard(): Promise<void> {
  const { days = [], staff = [] } = await keptFacts(openStore())
  const names = new Map(staff.map(({ personId, name }) => [personId, name]))
  showCard({
    pinned: currentDay(days)?.emergencyCard,
    nameOf: (personId) => names.get(personId) ?? personId,
    askNewest: async () => undefined,
  })
}
