import { useState } from 'preact/hooks'
import { CodeCamera } from '../shell/code-camera.tsx'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { FileDrop } from '../parts/file-drop/file-drop.tsx'
import { RefusalNotice } from '../parts/refusal-notice/refusal-notice.tsx'
import { sentenceOf } from '../house/sentence.ts'
import { Shell } from '../shell/shell.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { bundleIn, missingCodes, readBundle, withCode, type Bundle, type Seen } from './bundle.ts'
import { GiveOut } from './give-out.tsx'

/** What a tablet keeps and cannot send goes by hand: out of it as a file or codes, and in at one that has contact. */
export function CarriedScreen({ house }: { house: House }) {
  return (
    <Shell
      house={house}
      screen={words.carried.title}
      roles={['greeter', 'station', 'safety', 'screener', 'supervisor', 'coordinator']}
      dayless
    >
      {() => (
        <div class="split">
          <GiveOut house={house} />
          {mayBringIn(house) && <BringIn house={house} />}
        </div>
      )}
    </Shell>
  )
}

const mayBringIn = (house: House): boolean =>
  house.session.value?.person?.roles.some((role) => role === 'greeter' || role === 'supervisor' || role === 'coordinator') ?? false

type Answers = ('recorded' | 'knownAlready' | 'refused' | 'kept')[]

function BringIn({ house }: { house: House }) {
  const [bundle, hold] = useState<Bundle | null>(null)
  const [seen, see] = useState<Seen | null>(null)
  const [camera, point] = useState<'off' | 'on' | 'none'>('off')
  const [wrong, say] = useState<string | null>(null)
  const [answers, answered] = useState<Answers | null>(null)
  const [busy, setBusy] = useState(false)

  const take = (read: Bundle | null) => {
    answered(null)
    hold(read)
    say(read ? null : words.carried.notOne)
  }
  const readCode = (code: string) =>
    see((before) => {
      const now = withCode(before, code)
      const whole = now && bundleIn(now)
      if (whole) {
        point('off')
        take(whole)
      }
      return now
    })
  const send = async () => {
    if (!bundle) return
    setBusy(true)
    const { fromDeviceId, sha256, items } = bundle
    const outcome = await house.api.post<{ items: Answers }>('/api/carried-items', { fromDeviceId, sha256, items })
    setBusy(false)
    say(sentenceOf(outcome) ?? null)
    if (outcome.said === 'recorded') answered(outcome.body.items)
  }

  return (
    <section class="stack" aria-labelledby="bring-in">
      <h2 id="bring-in">{words.carried.bringIn}</h2>
      <p>{words.carried.bringInHelp}</p>
      <FileDrop
        label={words.carried.chooseFile}
        endings={['.json']}
        maxBytes={2_000_000}
        onFile={(file) => void file.text().then((text) => take(readBundle(text)))}
      />
      {camera === 'on' ? (
        <CodeCamera fine help={words.carried.camera} onCode={readCode} onNone={() => point('none')} onClose={() => point('off')} />
      ) : (
        <Button onPress={() => point('on')}>{words.carried.readCodes}</Button>
      )}
      {camera === 'none' && <p>{words.carried.noCamera}</p>}
      {seen && !bundle && <p role="status">{words.carried.seen(seen.parts.size, seen.of, missingCodes(seen).slice(0, 8).join(', '))}</p>}
      {wrong && (
        <RefusalNotice refusal={{ rule: 'carried', params: {}, says: wrong, next: words.carried.again, who: words.shell.anyone }} />
      )}
      {bundle && <Held house={house} bundle={bundle} answers={answers} />}
      {bundle && !answers && (
        <Button kind="primary" busy={busy} onPress={() => void send()}>
          {words.carried.send(bundle.items.length)}
        </Button>
      )}
    </section>
  )
}

/** What it holds, before anything of it is sent; then what became of each. */
function Held({ house, bundle, answers }: { house: House; bundle: Bundle; answers: Answers | null }) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  return (
    <div class="stack">
      <p role="status">
        <strong>{words.carried.holds(bundle.items.length, bundle.deviceName)}</strong>
      </p>
      <ol class="carried-items">
        {bundle.items.map((text, index) => {
          const { act, at, bib, personId } = about(house, text)
          const by = personId ? (house.staff.value.get(personId) ?? personId) : words.carried.nobody
          return (
            <li key={index}>
              <span>{words.carried.item(act, bib, at === null ? null : wallClock(at, zone, true), by)}</span>
              {answers?.[index] && <strong>{words.carried.became[answers[index]]}</strong>}
            </li>
          )
        })}
      </ol>
    </div>
  )
}

/** What of an item a person knows again; an item that cannot be read is carried all the same. */
function about(house: House, text: string): { act: string; at: number | null; bib: string | null; personId: string | null } {
  try {
    const item = JSON.parse(text) as {
      kind: string
      act?: string
      by?: { personId: string | null }
      envelope?: { occurredAt: number; offsetMs: number }
      body?: { studentId?: string }
    }
    const { envelope } = item
    return {
      act: item.act ?? item.kind,
      at: envelope ? envelope.occurredAt - envelope.offsetMs : null,
      bib: house.students.value.get(item.body?.studentId ?? '')?.name ?? null,
      personId: item.by?.personId ?? null,
    }
  } catch {
    return { act: '?', at: null, bib: null, personId: null }
  }
}
