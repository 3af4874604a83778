import { useEffect, useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import { words } from '../words/words.ts'

/** The words that people typed into an entry: they lie sealed beside the record, and each opening asks the site. */
export function Typed({ house, events }: { house: House; events: unknown }) {
  const ids = [...JSON.stringify(events).matchAll(/"textId":"([^"]+)"/g)].map(([, id]) => id!)
  const asked = ids.join(' ')
  const [texts, set] = useState<readonly string[]>([])
  useEffect(() => {
    let isOn = true
    set([])
    if (ids.length === 0) return
    // Not at every step of a slider: where it comes to rest.
    const open = () =>
      void Promise.all(ids.map((id) => house.api.get<{ text: string }>(`/api/texts/${encodeURIComponent(id)}`))).then((heard) => {
        if (isOn) set(heard.map((one) => (one.said === 'recorded' ? words.replay.typed(one.body.text) : words.replay.closed)))
      })
    const timer = setTimeout(open, 200)
    return () => {
      isOn = false
      clearTimeout(timer)
    }
  }, [house, asked])
  return (
    <>
      {texts.map((text, at) => (
        <p key={at} class="step-words">
          {text}
        </p>
      ))}
    </>
  )
}
