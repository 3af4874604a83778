import { useState } from 'preact/hooks'
import type { House } from '../house/house.ts'
import { openCall } from '../house/call-staff.ts'
import { KioskShell } from '../shell/kiosk-shell.tsx'
import { Shell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { CheckIn } from './check-in.tsx'
import './check-in.css'

/** The kiosk that students check in at by themselves; on a staff tablet the greeter does it with them. */
export function CheckInScreen({ house }: { house: House }) {
  const [call] = useState(() => openCall(house))
  const session = house.session.value
  const inside = () => <CheckIn house={house} call={call} />
  if (session?.device?.purpose === 'staff')
    return (
      <Shell house={house} screen={words.checkIn.title} roles={['greeter', 'supervisor', 'coordinator']}>
        {inside}
      </Shell>
    )
  return (
    <KioskShell house={house} screen={words.checkIn.title} onCallStaff={call.call}>
      {inside}
    </KioskShell>
  )
}
