import { useId } from 'preact/hooks'
import { figure, wallClock } from '../../words/figures.ts'
import { apart } from '../../words/standing-apart.ts'
import { words } from '../../words/words.ts'
import { DataTable } from '../data-table/data-table.tsx'
import { scale, ticks } from './scale.ts'
import './chart.css'

interface Point {
  at: number
  value: number
}

export interface ChartProps {
  title: string
  unit: string
  points: readonly Point[]
  zone: string
  /** Decimals of the values. */
  places?: number
  /** Named spans of time: a hold, a wave. */
  bands?: readonly { from: number; to: number; says: string }[]
  /** Named values: a bound of the adopted policy. */
  limits?: readonly { value: number; says: string }[]
  /** Steps rather than slopes, for what holds until the next reading. */
  stepped?: boolean
}

const width = 760
const height = 300
const margin = { top: 28, right: 20, bottom: 36, left: 64 }

/** One line over the day with its bands and bounds, and the same as a table below, for whoever listens or prints. */
export function Chart({ title, unit, points, zone, places = 1, bands = [], limits = [], stepped }: ChartProps) {
  const id = useId()
  const times = [...points.map(({ at }) => at), ...bands.flatMap(({ from, to }) => [from, to])]
  const values = [...points.map(({ value }) => value), ...limits.map(({ value }) => value)]
  if (times.length === 0 || values.length === 0) return null
  const valueTicks = ticks(Math.min(...values), Math.max(...values), 5)
  const x = scale([Math.min(...times), Math.max(...times)], [margin.left, width - margin.right])
  const y = scale([valueTicks[0] ?? 0, valueTicks.at(-1) ?? 1], [height - margin.bottom, margin.top])

  return (
    <figure class="chart">
      <figcaption id={id} class="chart-title">
        {title} ({unit})
      </figcaption>
      <div class="chart-scroll" role="group" aria-label={title} tabIndex={0}>
        <svg class="chart-drawing" viewBox={`0 0 ${width} ${height}`} role="img" aria-labelledby={id} focusable="false">
          {bands.map((band) => (
            <g key={band.from}>
              <rect
                class="chart-band"
                x={x(band.from)}
                width={x(band.to) - x(band.from)}
                y={margin.top}
                height={height - margin.top - margin.bottom}
              />
              <text
                class="chart-says"
                {...(x(band.from) < width * 0.75 ? { x: x(band.from) + 6 } : { x: x(band.to), 'text-anchor': 'end' })}
                y={margin.top - 8}
              >
                {apart(band.says)}
              </text>
            </g>
          ))}
          {valueTicks.map((value) => (
            <g key={value}>
              <path class="chart-rule" d={`M${margin.left} ${y(value)}H${width - margin.right}`} />
              <text class="chart-tick" x={margin.left - 10} y={y(value) + 5} text-anchor="end">
                {figure(value)}
              </text>
            </g>
          ))}
          {timeTicks(times).map((at) => (
            <text key={at} class="chart-tick" x={x(at)} y={height - 10} text-anchor="middle">
              {wallClock(at, zone)}
            </text>
          ))}
          {limits.map((limit) => (
            <g key={limit.value}>
              <path class="chart-limit" d={`M${margin.left} ${y(limit.value)}H${width - margin.right}`} />
              <text class="chart-says" x={margin.left + 6} y={y(limit.value) - 7}>
                {apart(limit.says)}
              </text>
            </g>
          ))}
          <path class="chart-line" d={line(points, x, y, stepped)} />
          {points.map(({ at, value }) => (
            <circle key={at} class="chart-point" cx={x(at)} cy={y(value)} r="4.5" />
          ))}
        </svg>
      </div>
      <details class="chart-table">
        <summary>{words.chart.table}</summary>
        <DataTable
          caption={title}
          captionSpoken
          rows={points}
          rowKey={({ at }) => String(at)}
          columns={[
            { key: 'at', head: words.chart.time, cell: ({ at }) => wallClock(at, zone) },
            { key: 'value', head: words.chart.value, cell: ({ value }) => `${figure(value, places)} ${unit}`, figures: true },
          ]}
        />
      </details>
    </figure>
  )
}

function line(points: readonly Point[], x: (at: number) => number, y: (value: number) => number, stepped?: boolean): string {
  return points
    .map(({ at, value }, i) => {
      if (i === 0) return `M${x(at)} ${y(value)}`
      return stepped ? `H${x(at)}V${y(value)}` : `L${x(at)} ${y(value)}`
    })
    .join('')
}

/** Whole hours, halves or quarters, whichever gives at most eight. */
function timeTicks(times: readonly number[]): number[] {
  const [from, to] = [Math.min(...times), Math.max(...times)]
  const step = [5, 15, 30, 60, 120].map((minutes) => minutes * 60_000).find((step) => (to - from) / step <= 8) ?? 240 * 60_000
  const first = Math.ceil(from / step) * step
  return Array.from({ length: Math.max(0, Math.floor((to - first) / step) + 1) }, (_, i) => first + i * step)
}
