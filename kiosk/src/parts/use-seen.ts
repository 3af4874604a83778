import { useEffect, useRef, useState } from 'preact/hooks'
import type { RefObject } from 'preact'

/** Can any of it be seen, or nearly? On paper all can. */
export function useSeen<Of extends Element>(): [RefObject<Of | null>, boolean] {
  const element = useRef<Of>(null)
  const [isSeen, see] = useState(false)
  useEffect(() => {
    const watch = new IntersectionObserver(([entry]) => see(entry?.isIntersecting ?? true), { rootMargin: '200px' })
    const print = () => see(true)
    if (element.current) watch.observe(element.current)
    addEventListener('beforeprint', print)
    return () => {
      watch.disconnect()
      removeEventListener('beforeprint', print)
    }
  }, [])
  return [element, isSeen]
}
