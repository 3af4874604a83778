import { useState } from 'preact/hooks'
import type { Role } from '@musterbook/vocabulary/people'
import type { House } from '../house/house.ts'
import { Tabs } from '../parts/tabs/tabs.tsx'
import { OwnPin } from '../shell/own-pin.tsx'
import { Shell, showWhat } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { Devices } from './devices.tsx'
import { EquipmentRegister } from './equipment.tsx'
import { OpenDay } from './open-day.tsx'
import { People } from './people.tsx'
import { Roster } from './roster.tsx'
import { Rules } from './rules.tsx'
import { Venue } from './venue.tsx'
import './office.css'

type Part = keyof typeof words.office.tabs
const staff: readonly Role[] = ['greeter', 'screener', 'station', 'safety', 'supervisor', 'coordinator', 'auditor']
const readers: readonly Role[] = ['supervisor', 'coordinator', 'auditor']

/** Who may open which part; everybody may change their own PIN. */
const parts: Record<Part, { for: readonly Role[]; shows: (props: { house: House }) => preact.JSX.Element }> = {
  roster: { for: ['coordinator', 'supervisor'], shows: Roster },
  people: { for: readers, shows: People },
  devices: { for: readers, shows: Devices },
  venue: { for: readers, shows: Venue },
  equipment: { for: readers, shows: EquipmentRegister },
  rules: { for: readers, shows: Rules },
  day: { for: readers, shows: OpenDay },
  pin: { for: staff, shows: ({ house }) => <OwnPin house={house} show={showWhat} /> },
}

/** Everything before the day. One part at a time; the address keeps which. */
export function OfficeScreen({ house }: { house: House }) {
  const [chosen, choose] = useState<string>(location.hash.slice(1))
  const roles = house.session.value?.person?.roles ?? []
  const open = (Object.keys(parts) as Part[]).filter((part) => parts[part].for.some((role) => roles.includes(role)))
  const part = open.find((one) => one === chosen) ?? open[0] ?? 'pin'
  const { shows: Shown } = parts[part]

  return (
    <Shell house={house} screen={words.office.title} roles={staff} dayless englishOnly needsSite>
      {() => (
        <div class="stack office">
          <Tabs
            label={words.office.sections}
            value={part}
            choices={open.map((value) => ({ value, says: words.office.tabs[value] }))}
            onChange={(value) => {
              choose(value)
              history.replaceState(null, '', `#${value}`)
            }}
          />
          <Shown key={`${part}.${house.session.value?.person?.personId}`} house={house} />
        </div>
      )}
    </Shell>
  )
}
