import { useState } from 'preact/hooks'
import type { SafetyView } from '@musterbook/day/views/safety'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { takeHeadcount } from './acts.ts'

interface Props {
  house: House
  safety: SafetyView
  zoneId: string
  zone: string
}

/** Everybody who ought to be there, to be touched as they are seen. */
export function Headcount({ house, safety, zoneId, zone }: Props) {
  const [seen, see] = useState<ReadonlySet<string>>(new Set())
  const expected = expectedIn(safety)
  const present = expected.filter(({ studentId }) => seen.has(studentId))
  const last = safety.headcounts.find((one) => one.zoneId === zoneId)
  const bibOf = (studentId: string) => Object.entries(safety.bibs).find(([, id]) => id === studentId)?.[0]
  const toggle = (studentId: string) => {
    const next = new Set(seen)
    if (!next.delete(studentId)) next.add(studentId)
    see(next)
  }

  return (
    <section class="stack" aria-label={words.run.headcountAt(zone)}>
      <h2>{words.run.headcountAt(zone)}</h2>
      {last && (
        <div class="stack" role="status">
          <p class="figures">{words.run.lastCount(wallClock(last.at, house.day.value?.timeZone ?? 'UTC'), last.present.length)}</p>
          {last.missing.length > 0 ? (
            <Mark state="notMet" says={words.run.missing(last.missing.map((id) => words.common.bib(bibOf(id) ?? id)).join(', '))} />
          ) : (
            <Mark state="done" says={words.run.noneMissing} />
          )}
        </div>
      )}
      {expected.length === 0 ? (
        <p>{words.run.headcountNone}</p>
      ) : (
        <>
          <p>{words.run.headcountHelp}</p>
          <ul class="heads">
            {expected.map(({ studentId, bib }) => (
              <li key={studentId}>
                <button type="button" class="button head" aria-pressed={seen.has(studentId)} onClick={() => toggle(studentId)}>
                  <span class="head-bib figures">{bib ?? '?'}</span>
                  <span class="head-name" dir="auto">
                    {shown(house, studentId, bib).name}
                  </span>
                  <span class="head-state">{seen.has(studentId) ? words.run.here : words.run.notSeen}</span>
                </button>
              </li>
            ))}
          </ul>
          <div class="row">
            <Button onPress={() => see(new Set(expected.map(({ studentId }) => studentId)))}>{words.run.seeAll}</Button>
            <Button
              kind="primary"
              onPress={() => {
                see(new Set())
                void takeHeadcount(
                  house,
                  zoneId,
                  present.map(({ studentId }) => studentId),
                )
              }}
            >
              {words.run.headcountSave(present.length, expected.length)}
            </Button>
          </div>
        </>
      )}
    </section>
  )
}

/** Who is under way outdoors, and who came off a run and has not been looked over. */
const expectedIn = ({ outdoors, coolingDown }: SafetyView): { studentId: string; bib: string | null }[] => [
  ...outdoors,
  ...coolingDown.filter(({ studentId }) => !outdoors.some((one) => one.studentId === studentId)),
]
