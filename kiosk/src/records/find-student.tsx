import { useState } from 'preact/hooks'
import type { FoundStudent } from '@musterbook/gateway/student-file'
import type { House } from '../house/house.ts'
import { useFetched } from '../office/fetched.ts'
import { Button } from '../parts/button/button.tsx'
import { EmptyState } from '../parts/empty-state/empty-state.tsx'
import { Field } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'

const asMany = 30

/** By name, code or class. Nobody is listed unasked. */
export function FindStudent({ house, onOpen }: { house: House; onOpen: (studentId: string) => void }) {
  const [typed, type] = useState('')
  const [asked, ask] = useState('')
  const found = useFetched<FoundStudent[]>(house, asked ? `/api/records/students?find=${encodeURIComponent(asked)}` : null)
  const say = words.records
  return (
    <div class="stack">
      <form
        class="records-find"
        role="search"
        onSubmit={(event) => {
          event.preventDefault()
          ask(typed.trim())
        }}
      >
        <Field label={say.find} hint={say.findHelp} type="search" value={typed} onInput={type} maxLength={120} optional />
        <Button type="submit" kind="primary">
          {say.search}
        </Button>
      </form>
      {asked && found.value?.length === 0 && <EmptyState says={say.nobody} />}
      {asked && found.value && (
        <ul class="record-find">
          {found.value.map(({ studentId, name, code, className }) => (
            <li key={studentId}>
              <Button wide detail={`${code}, ${className}`} onPress={() => onOpen(studentId)}>
                {name}
              </Button>
            </li>
          ))}
        </ul>
      )}
      {found.value?.length === asMany && <p>{say.more}</p>}
    </div>
  )
}
