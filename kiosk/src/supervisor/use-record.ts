import { useEffect, useRef, useState } from 'preact/hooks'
import type { RecordView } from '@musterbook/day/views/record'
import type { House } from '../house/house.ts'

/** One student's record, read again whenever the day has moved. A stream for each would use up what a browser keeps open. */
export function useRecord(house: House, studentId: string | null): RecordView | undefined {
  const [record, set] = useState<RecordView | undefined>(undefined)
  const dayId = house.day.value?.dayId
  const version = house.view('board').version.value
  const asked = useRef(0)
  useEffect(() => {
    if (!dayId || !studentId) return set(undefined)
    const mine = ++asked.current
    const path = `/api/days/${dayId}/views/record/${encodeURIComponent(studentId)}${version ? `?atLeast=${version}` : ''}`
    void house.api.get<{ body: RecordView }>(path).then((heard) => {
      // A later question has been asked meanwhile: its answer is the newer one.
      if (heard.said === 'recorded' && mine === asked.current) set(heard.body.body)
    })
  }, [house, dayId, studentId, version])
  return record?.studentId === studentId ? record : undefined
}
