import { useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { QrCode } from '../parts/qr-code/qr-code.tsx'
import '../words/floor-screens.ts'
import { words } from '../words/words.ts'
import { bundleOf, codesOf, type Bundle } from './bundle.ts'
import './carried.css'

/**
 * Everything that waits here stays here as well: carried and sent later it is the same act, and counts once. On a tablet that was locked as
 * lost too: it says how many there are, and of whom they tell nowhere on the screen.
 */
export function GiveOut({ house }: { house: House }) {
  const [shown, show] = useState<number | null>(null)
  const device = house.session.value?.device
  const waiting = house.outbox.waiting.value
  if (!device) return null
  const ordered = [...waiting.filter(({ urgent }) => urgent), ...waiting.filter(({ urgent }) => !urgent)]
  const bundle = bundleOf(
    device.deviceId,
    device.name,
    ordered.map(({ item }) => item),
  )
  const codes = shown === null ? [] : codesOf(bundle)
  return (
    <section class="stack give-out" aria-labelledby="give-out">
      <h2 id="give-out">{words.carried.giveOut}</h2>
      {waiting.length === 0 ? (
        <EmptyState says={words.carried.nothing(device.name)} help={words.carried.giveOutHelp} />
      ) : (
        <>
          <p role="status">{words.carried.waiting(waiting.length, device.name)}</p>
          <p>{words.carried.giveOutHelp}</p>
          <div class="row">
            <Button kind="primary" onPress={() => save(bundle)}>
              {words.carried.file}
            </Button>
            <Button pressed={shown !== null} onPress={() => show(shown === null ? 0 : null)}>
              {words.carried.codes}
            </Button>
          </div>
        </>
      )}
      {shown !== null && codes.length > 0 && (
        <div class="carried-code stack">
          <p class="figures" role="status">
            {words.carried.codeOf((shown % codes.length) + 1, codes.length)}
          </p>
          <div class="row">
            <Button onPress={() => show((shown + codes.length - 1) % codes.length)}>{words.carried.before}</Button>
            <Button kind="primary" onPress={() => show((shown + 1) % codes.length)}>
              {words.carried.next}
            </Button>
          </div>
          <QrCode text={codes[shown % codes.length]!} says={words.carried.codeOf((shown % codes.length) + 1, codes.length)} />
        </div>
      )}
    </section>
  )
}

function save(bundle: Bundle): void {
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([JSON.stringify(bundle)], { type: 'application/json' }))
  link.download = `${bundle.deviceName.replace(/[^\p{L}\p{N}]+/gu, '-')}-${bundle.sha256.slice(0, 8)}.json`
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000)
}
