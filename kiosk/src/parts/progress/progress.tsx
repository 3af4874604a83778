import { useId } from 'preact/hooks'
import { words } from '../../words/words.ts'
import './progress.css'

/** Long work, said in what is done: rows read, entries replayed. Without `of`, its end is not known yet. */
export function Progress({ label, done, of }: { label: string; done?: number | undefined; of?: number | undefined }) {
  const id = useId()
  const known = done !== undefined && of !== undefined
  return (
    <div class="progress">
      <label for={id}>{label}</label>
      <span class="progress-figures figures">{known ? words.progress.of(done, of) : words.progress.working}</span>
      <progress id={id} class="progress-bar" {...(known && { value: done, max: of })} />
    </div>
  )
}
