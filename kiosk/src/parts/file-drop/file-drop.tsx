import { useId, useState } from 'preact/hooks'
import fileUp from 'lucide-static/icons/file-up.svg?raw'
import { figure } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Icon } from '../icon/icon.tsx'
import './file-drop.css'

export interface FileDropProps {
  label: string
  hint?: string | undefined
  /** Endings that are taken: `['.csv', '.txt']`. */
  endings: readonly string[]
  maxBytes: number
  chosen?: { name: string; size: number } | undefined
  onFile: (file: File) => void
}

/** A native file field with room to drop on. A file of the wrong kind or size is told so at once; its content is the reader's to judge. */
export function FileDrop({ label, hint, endings, maxBytes, chosen, onFile }: FileDropProps) {
  const id = useId()
  const [over, setOver] = useState(false)
  const [error, setError] = useState('')

  const take = (file: File | null | undefined) => {
    setOver(false)
    if (!file) return
    const problem = !endings.some((ending) => file.name.toLowerCase().endsWith(ending))
      ? words.files.wrongKind(endings.join(', '))
      : file.size > maxBytes
        ? words.files.tooLarge(bytes(maxBytes))
        : ''
    setError(problem)
    if (!problem) onFile(file)
  }

  return (
    <div class="file" data-wrong={error ? true : undefined}>
      <label
        class="file-drop"
        for={id}
        data-over={over || undefined}
        onDragOver={(event) => {
          event.preventDefault()
          setOver(true)
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault()
          take(event.dataTransfer?.files[0])
        }}
      >
        <Icon svg={fileUp} />
        <span class="file-words">
          <strong>{label}</strong>
          <span>{chosen ? words.files.chosen(chosen.name, bytes(chosen.size)) : `${words.files.choose} ${words.files.drop}`}</span>
          {hint && <span class="quiet">{hint}</span>}
        </span>
        <input
          id={id}
          class="spoken"
          type="file"
          accept={endings.join(',')}
          aria-describedby={`${id}-error`}
          onChange={(event) => {
            take(event.currentTarget.files?.[0])
            event.currentTarget.value = ''
          }}
        />
      </label>
      <p class="field-error" id={`${id}-error`} aria-live="polite">
        {error}
      </p>
    </div>
  )
}

const bytes = (n: number) => (n < 1_000_000 ? `${figure(Math.ceil(n / 1000))} kB` : `${figure(n / 1_000_000, 1)} MB`)
