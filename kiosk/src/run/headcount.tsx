import type { SafetyView } from '@musterbook/day/views/safety'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { seeAtHeadcount, takeHeadcount } from './acts.ts'
import { headsIn } from './heads.ts'

interface Props {
  house: House
  safety: SafetyView
  zoneId: string
  zone: string
}

/** Everybody who ought to be there, to be touched as they are seen: here or on another tablet, it is one count. */
export function Headcount({ house, safety, zoneId, zone }: Props) {
  const heads = headsIn(house, safety, zoneId)
  const present = heads.filter(({ seen }) => seen)
  const missing = heads.filter(({ seen }) => !seen)
  const last = safety.headcounts.find((one) => one.zoneId === zoneId)
  const bibOf = (studentId: string) => Object.entries(safety.bibs).find(([, id]) => id === studentId)?.[0] ?? null
  const named = (studentIds: readonly string[]) => studentIds.map((id) => calledOut(house, id, bibOf(id))).join(', ')

  return (
    <section class="stack headcount" aria-label={words.run.headcountAt(zone)}>
      <h2>{words.run.headcountAt(zone)}</h2>
      {last && (
        <div class="stack" role="status">
          <p class="figures">{words.run.lastCount(wallClock(last.at, house.day.value?.timeZone ?? 'UTC'), last.present.length)}</p>
          {last.missing.length > 0 ? (
            <Mark state="notMet" says={words.run.missing(named(last.missing))} />
          ) : (
            <Mark state="done" says={words.run.noneMissing} />
          )}
        </div>
      )}
      {heads.length === 0 ? (
        <p>{words.run.headcountNone}</p>
      ) : (
        <>
          <p class="heads-tally figures" role="status">
            <strong>{words.run.seenOf(present.length, heads.length)}</strong>
            {present.length > 0 && missing.length > 0 && (
              <span>{words.run.yetToSee(named(missing.map(({ studentId }) => studentId)))}</span>
            )}
          </p>
          <p>{words.run.headcountHelp}</p>
          <ul class="heads">
            {heads.map(({ studentId, bib, seen }) => (
              <li key={studentId}>
                <button
                  type="button"
                  class="button head"
                  aria-pressed={seen}
                  onClick={() => void seeAtHeadcount(house, zoneId, [studentId], !seen)}
                >
                  <span class="head-bib figures">{bib ?? '?'}</span>
                  <span class="head-name" dir="auto">
                    {shown(house, studentId, bib).name}
                  </span>
                  <span class="head-state">{seen ? words.run.here : words.run.notSeen}</span>
                </button>
              </li>
            ))}
          </ul>
          <div class="head-keys">
            {missing.length > 0 && (
              <Button
                size="key"
                onPress={() =>
                  void seeAtHeadcount(
                    house,
                    zoneId,
                    missing.map(({ studentId }) => studentId),
                    true,
                  )
                }
              >
                {words.run.seeAll}
              </Button>
            )}
            <Button
              kind="primary"
              size="key"
              onPress={() =>
                void takeHeadcount(
                  house,
                  zoneId,
                  present.map(({ studentId }) => studentId),
                )
              }
            >
              {words.run.headcountSave(present.length, heads.length)}
            </Button>
          </div>
        </>
      )}
    </section>
  )
}

/** By bib and, where somebody is signed on, by name. */
function calledOut(house: House, studentId: string, bib: string | null): string {
  const number = words.common.bib(bib ?? '?')
  const name = house.students.value.get(studentId)?.name
  return name ? `${number} ${name}` : number
}
