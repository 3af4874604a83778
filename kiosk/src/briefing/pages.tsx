import { useEffect, useState } from 'preact/hooks'
import type { DayView } from '@musterbook/day/views'
import type { Language } from '@musterbook/vocabulary/people'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'
import { TestPage } from './test-page.tsx'

interface Props {
  dayId: string
  stations: readonly DayView['stations'][number][]
  language: Language
  onLeave: () => void
  onPresent: () => void
}

/** One test a page, large enough for a class. The arrow keys of a keyboard or a presenter turn it. */
export function Pages({ dayId, stations, language, onLeave, onPresent }: Props) {
  const [at, turn] = useState(0)
  const station = stations[at]
  useEffect(() => {
    const listen = ({ key }: KeyboardEvent) => {
      if (key === 'ArrowRight' || key === 'PageDown') turn((now) => Math.min(now + 1, stations.length - 1))
      if (key === 'ArrowLeft' || key === 'PageUp') turn((now) => Math.max(now - 1, 0))
    }
    document.addEventListener('keydown', listen)
    return () => document.removeEventListener('keydown', listen)
  }, [stations.length])
  useEffect(() => scrollTo(0, 0), [at])

  if (!station) return null
  return (
    <div class="stack briefing-pages">
      <TestPage protocol={station.protocol} language={language} />
      <div class="briefing-keys">
        <Button onPress={onLeave}>{words.briefing.leave}</Button>
        <a
          class="button"
          href={`/sheets/days/${dayId}/briefings/${station.stationId}?language=${language}`}
          target="_blank"
          rel="noreferrer"
        >
          <span class="button-word">{words.briefing.print}</span>
        </a>
        <p class="briefing-at figures" role="status">
          {words.briefing.page(at + 1, stations.length)}
        </p>
        {at > 0 && (
          <Button size="key" onPress={() => turn(at - 1)}>
            {words.briefing.previous}
          </Button>
        )}
        {at < stations.length - 1 ? (
          <Button kind="primary" size="key" onPress={() => turn(at + 1)}>
            {words.briefing.next}
          </Button>
        ) : (
          <Button kind="primary" size="key" onPress={onPresent}>
            {words.briefing.toPresent}
          </Button>
        )}
      </div>
    </div>
  )
}
