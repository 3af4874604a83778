import { useState } from 'preact/hooks'
import type { StudentId } from '@musterbook/vocabulary/ids'
import type { House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import type { OnFloor } from './lists.ts'

/** Everybody who has nothing left to do goes home, one sign-off each: the first that the day refuses stops and says why. */
export function SignOffAll({ house, students }: { house: House; students: readonly OnFloor[] }) {
  const [busy, setBusy] = useState(false)
  const done = students.filter(
    ({ presence, coolDown, stopped, stations }) =>
      presence === 'present' && coolDown !== 'due' && !stopped && stations.every(({ left }) => !left),
  )
  const signOff = async () => {
    setBusy(true)
    for (const { studentId, bib } of done) {
      const who = bib ? words.common.bib(bib) : (house.students.value.get(studentId)?.name ?? studentId)
      const said = await tell(house, words.floor.signOffSaid(who), 'signOffStudent', { studentId: studentId as StudentId })
      if (!stands(said)) break
    }
    setBusy(false)
  }
  if (done.length === 0) return null
  return (
    <div class="row">
      <Button kind="primary" busy={busy} onPress={() => void signOff()}>
        {words.floor.signOffAll(done.length)}
      </Button>
    </div>
  )
}
