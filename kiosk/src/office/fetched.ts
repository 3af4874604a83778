import { useCallback, useEffect, useState } from 'preact/hooks'
import type { House } from '../house/house.ts'

export interface Fetched<Value> {
  /** undefined until first heard. */
  value: Value | undefined
  failed: boolean
  refresh(): Promise<void>
}

/** A list of the office, read when it is shown and again after each change. Whoever signs on anew reads anew. */
export function useFetched<Value>(house: House, path: string | null): Fetched<Value> {
  const [value, set] = useState<Value | undefined>(undefined)
  const [failed, fail] = useState(false)
  const refresh = useCallback(async () => {
    if (path === null) return
    const heard = await house.api.get<Value>(path)
    fail(heard.said !== 'recorded')
    if (heard.said === 'recorded') set(() => heard.body)
  }, [house, path])
  useEffect(() => {
    set(undefined)
    void refresh()
  }, [refresh])
  return { value, failed, refresh }
}
