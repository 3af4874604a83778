import '../words/english-only.ts'
import '../words/floor-screens.ts'
import type { Examples } from '../parts/examples.ts'
import { Button } from '../parts/button/button.tsx'
import { show } from '../start.tsx'
import { theme, wear } from '../style/theme.ts'
import { LanguageChoice } from '../parts/language-choice/language-choice.tsx'
import { speakLanguage } from '../words/languages.ts'
import { Language } from '@musterbook/vocabulary/people'
import './parts-page.css'

interface Part {
  examples: Examples
  /** Its examples fill a screen each. */
  whole?: boolean
}

const parts = Object.entries(import.meta.glob<Part>('../parts/*/examples.tsx', { eager: true })).map(([path, part]) => ({
  name: path.split('/').at(-2) ?? path,
  ...part,
}))

/** Every part in every example state. `?part=frame` shows one part, `&example=name` one state alone, as on a screen; `&language=ar` in Arabic. */
function PartsPage() {
  const asked = new URLSearchParams(location.search)
  const alone = asked.get('example')
  const part = parts.find(({ name }) => name === asked.get('part'))
  const example = alone === null ? undefined : part?.examples[alone]
  if (example) return part?.whole ? example() : <main class="parts">{example()}</main>

  return (
    <main class="parts">
      <header class="parts-head">
        <h1>Parts of every screen</h1>
        <p>Each in its example states, with invented people. For whoever designs the next screen.</p>
        <div class="row screen-only">
          <Button pressed={theme.value === 'indoor'} onPress={() => wear('indoor')}>
            Indoor
          </Button>
          <Button pressed={theme.value === 'outdoor'} onPress={() => wear('outdoor')}>
            Outdoor
          </Button>
        </div>
        <LanguageChoice onChoose={(language) => void speakLanguage(language)} />
      </header>
      {(part ? [part] : parts).map(({ name, examples, whole }) => (
        <section key={name} class="parts-part" aria-labelledby={name}>
          <h2 id={name}>{name}</h2>
          {Object.entries(examples).map(([state, draw]) => (
            <div key={state} class="parts-example" role="group" aria-label={`${name}, ${state}`}>
              <p class="parts-state">
                <a href={`?part=${name}&example=${encodeURIComponent(state)}`}>{state}</a>
              </p>
              {!whole && draw()}
            </div>
          ))}
        </section>
      ))}
    </main>
  )
}

void speakLanguage(Language.catch('en').parse(new URLSearchParams(location.search).get('language'))).then(() => show(<PartsPage />))
