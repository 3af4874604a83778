import { figure } from '../../words/figures.ts'
import { words } from '../../words/words.ts'
import './percentile-strip.css'

export interface PercentileStripProps {
  /** 0 to 100; nothing where the table has none. */
  percentile: number | undefined
  /** "M30–39" */
  group: string
  /** "FX-1" */
  table: string
  /** An earlier one, on the same table and group. */
  before?: { percentile: number; says: string } | undefined
}

/** Where a result stands in its group. It says group and table, and no more: it is no verdict. */
export function PercentileStrip({ percentile, group, table, before }: PercentileStripProps) {
  const says = words.percentile.within(group, table)
  return (
    <figure class="percentile">
      <figcaption>{says}</figcaption>
      <p class="percentile-value figures">{percentile === undefined ? words.percentile.none : words.percentile.value(percentile)}</p>
      <svg class="percentile-strip" viewBox="-4 0 108 24" aria-hidden="true" focusable="false">
        <rect class="percentile-rail" x="0" y="8" width="100" height="5" />
        {Array.from({ length: 11 }, (_, i) => (
          <path key={i} class="percentile-tick" d={`M${i * 10} ${i % 5 === 0 ? 5 : 6.5}v${i % 5 === 0 ? 11 : 8}`} />
        ))}
        {before && <circle class="percentile-before" cx={before.percentile} cy="10.5" r="2.6" />}
        {percentile !== undefined && <path class="percentile-now" d={`M${percentile} 10.5l-4-9h8z`} />}
        {[0, 50, 100].map((mark) => (
          <text key={mark} class="percentile-mark" x={mark} y="23" text-anchor="middle">
            {figure(mark)}
          </text>
        ))}
      </svg>
      {before && <p class="percentile-before-says">{before.says}</p>}
    </figure>
  )
}
