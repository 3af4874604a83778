import type { HeatBand } from '@musterbook/heat/policies'
import type { NormGroup, NormTable } from '@musterbook/scoring/norms'
import { sayValue, type ScoreUnit } from '@musterbook/stations/units'
import type { Offer } from '@musterbook/vocabulary/office'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { figure } from '../words/figures.ts'
import { words } from '../words/words.ts'
import { Facts } from './facts.tsx'

/** A rule as it would be in force, whole: nobody adopts what they could not read. */
export function WholeRule({ offer }: { offer: Offer }) {
  const { rules: say } = words.office
  return (
    <div class="stack">
      {offer.kind === 'norms' ? (
        (offer.content['tables'] as NormTable[]).map((table) => <Norms key={table.id} table={table} />)
      ) : offer.kind === 'heatPolicy' ? (
        <>
          <Bands bands={offer.content['bands'] as HeatBand[]} unit={offer.content['unit'] === 'degF' ? '°F' : '°C'} name={offer.name} />
          <Facts of={without(offer.content, ['bands'])} />
        </>
      ) : (
        <Facts of={offer.content} />
      )}
      <p class="code office-digest">{say.digest(offer.contentDigest)}</p>
    </div>
  )
}

const without = (content: Record<string, unknown>, names: readonly string[]) =>
  Object.fromEntries(Object.entries(content).filter(([name]) => !names.includes(name)))

function Norms({ table }: { table: NormTable }) {
  const { rules: say } = words.office
  const percentiles = [...new Set(table.groups.flatMap(({ points }) => points.map(({ percentile }) => percentile)))].sort((a, b) => b - a)
  const value = (group: NormGroup, percentile: number) => {
    const point = group.points.find((one) => one.percentile === percentile)
    return point ? sayValue(point.value, table.unit as ScoreUnit) : ''
  }
  return (
    <section class="stack" aria-label={table.id}>
      <h4>
        {table.id}, {table.test}, {table.edition}
      </h4>
      <p>
        {say.population}: {table.population}. {table.source} {table.invented && say.invented}
      </p>
      <DataTable<NormGroup>
        caption={`${table.id}, ${table.test}`}
        captionSpoken
        rows={table.groups}
        rowKey={(group) => `${group.sex}${group.ageFrom}`}
        columns={[
          { key: 'group', head: say.group, cell: (group) => `${group.sex} ${group.ageFrom}–${group.ageTo ?? ''}` },
          ...percentiles.map((percentile) => ({
            key: String(percentile),
            head: figure(percentile),
            figures: true,
            cell: (group: NormGroup) => value(group, percentile),
          })),
        ]}
      />
      <Facts
        of={without(table as unknown as Record<string, unknown>, ['groups', 'id', 'test', 'edition', 'population', 'source', 'invented'])}
      />
    </section>
  )
}

function Bands({ bands, unit, name }: { bands: readonly HeatBand[]; unit: string; name: string }) {
  const bound = (one: HeatBand['from']) => (one ? `${figure(one.tenths / 10, 1)} ${unit}${one.included ? '' : ' ⟩'}` : '')
  return (
    <DataTable<HeatBand>
      caption={name}
      captionSpoken
      rows={bands}
      rowKey={(band) => band.id}
      columns={[
        { key: 'id', head: words.office.rules.group, cell: (band) => (band.flag ? `${band.id} (${band.flag})` : band.id) },
        { key: 'from', head: '≥', figures: true, cell: (band) => bound(band.from) },
        { key: 'to', head: '≤', figures: true, cell: (band) => bound(band.to) },
        {
          key: 'says',
          head: words.office.roster.says,
          cell: (band) => (
            <span class="office-says">
              {band.advice.map(({ population, says }) => (
                <span key={population}>
                  {words.office.rules.populations[population]}: {says}
                </span>
              ))}
            </span>
          ),
        },
      ]}
    />
  )
}
