import { useState } from 'preact/hooks'
import { CodeCamera } from './code-camera.tsx'
import type { House } from '../house/house.ts'
import { useScanner } from '../house/scanner.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { words } from '../words/words.ts'
import { sayNo } from './shell.tsx'

interface Props<Student> {
  house: House
  students: readonly Student[]
  onFound: (student: Student) => void
}

/** Chooses whoever wears the bib that was read: by a hand scanner wherever focus is but in a field, or by the camera behind the key. */
export function FindByBib<Student extends { bib: string | null }>({ house, students, onFound }: Props<Student>) {
  const [camera, point] = useState(false)
  const find = (read: string) => {
    point(false)
    const bib = read.trim()
    const found = students.find((one) => one.bib === bib)
    if (found) onFound(found)
    else sayNo(house, words.shell.nobodyWears(bib.slice(0, 12)), words.shell.nobodyWearsNext)
  }
  const none = () => {
    point(false)
    sayNo(house, words.shell.noCamera, words.shell.noCameraNext)
  }
  useScanner(find)
  return (
    <div class="row">
      <Button size="small" onPress={() => point(true)}>
        {words.shell.readBib}
      </Button>
      <Dialog title={words.shell.readBib} open={camera} onClose={() => point(false)}>
        <CodeCamera help={words.shell.holdBib} onCode={find} onNone={none} />
      </Dialog>
    </div>
  )
}
