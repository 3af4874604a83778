import { figure } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import { Shape } from '../mark/mark.tsx'
import './skinfold-sites.css'

interface Site {
  site: string
  name: string
  /** Readings so far in half millimetres, in the order read. */
  readingsHalfMm: readonly number[]
  /** The two readings differ beyond the protocol: a third is asked. */
  thirdAsked?: boolean | undefined
}

export interface SkinfoldSitesProps {
  /** In the order of the circuit. */
  sites: readonly Site[]
  /** The site whose next reading is due. */
  current: string
  onChoose: (site: string) => void
}

/** Sites in rotation: once round for the first reading, once more for the second, a third only where asked. */
export function SkinfoldSites({ sites, current, onChoose }: SkinfoldSitesProps) {
  return (
    <ol class="folds" aria-label={words.skinfolds.title}>
      {sites.map(({ site, name, readingsHalfMm, thirdAsked }) => {
        const wanted = thirdAsked ? 3 : 2
        const isCurrent = site === current
        return (
          <li key={site}>
            <button type="button" class="button fold" aria-current={isCurrent ? 'step' : undefined} onClick={() => onChoose(site)}>
              <span class="fold-name">
                <Shape state={readingsHalfMm.length >= wanted ? 'done' : isCurrent ? 'called' : 'pending'} />
                {name}
                {isCurrent && <span class="fold-next">{words.skinfolds.next}</span>}
              </span>
              <span class="fold-readings">
                {Array.from({ length: wanted }, (_, i) => (
                  <span key={i} class="fold-reading figures">
                    <span class="fold-which">{words.skinfolds.reading(i + 1)}</span>
                    {readingsHalfMm[i] === undefined
                      ? words.skinfolds.missing
                      : `${figure(readingsHalfMm[i] / 2, 1)} ${words.skinfolds.unit}`}
                  </span>
                ))}
              </span>
              {thirdAsked && readingsHalfMm.length < 3 && <span class="fold-asks">{words.skinfolds.third}</span>}
            </button>
          </li>
        )
      })}
    </ol>
  )
}
