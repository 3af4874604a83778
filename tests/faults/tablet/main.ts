import type { ActName } from '@musterbook/vocabulary/act-table'
import { openHouse } from '../../../kiosk/src/house/house.ts'
import type { Kept } from '../../../kiosk/src/house/outbox.ts'

/** What a script does at a tablet, where a person would touch its screen. */
export interface Tablet {
  /** Somebody is signed on, a day is chosen, and what was kept before has been read. */
  stands(): boolean
  tell(act: ActName, body: object): Promise<string>
  unsent(): number
  /** The tablet's own clock is put somewhere else, by so many milliseconds. */
  jump(by: number): void
}

declare global {
  /** The script's ear: what this tablet says it has kept, as soon as it says so. */
  function saved(kept: Kept): void
  var tablet: Tablet
}

const aheadKey = 'soak.ahead'
const ahead = () => Number(localStorage.getItem(aheadKey) ?? new URLSearchParams(location.search).get('ahead'))
const machineNow = Date.now.bind(Date)
Date.now = () => machineNow() + ahead()

const house = openHouse()
let seen = 0
house.outbox.waiting.subscribe((waiting) => {
  for (const kept of waiting) {
    if (kept.number! <= seen) continue
    seen = kept.number!
    saved(kept)
  }
})

globalThis.tablet = {
  stands: () => Boolean(house.session.value?.person && house.day.value && house.outbox.counted.value),
  async tell(act, body) {
    document.dispatchEvent(new Event('pointerdown'))
    return (await house.tell(act, body as never)).said
  },
  unsent: () => house.outbox.unsent.value + house.outbox.troubled.value,
  jump: (by) => localStorage.setItem(aheadKey, String(ahead() + by)),
}
