import './icon.css'

/** A drawing beside a word, never instead of one: it is hidden from speech. `svg` is a file of lucide-static, inlined at build. */
export function Icon({ svg }: { svg: string }) {
  return <span class="icon" aria-hidden="true" dangerouslySetInnerHTML={{ __html: svg }} />
}
