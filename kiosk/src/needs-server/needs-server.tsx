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
