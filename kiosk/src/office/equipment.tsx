import { useState } from 'preact/hooks'
import type { Equipment, PlacedStation } from '@musterbook/vocabulary/office-events'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { DataTable } from '../parts/data-table/data-table.tsx'
import { Choice, Field } from '../parts/field/field.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'
import { askOffice } from './ask.ts'
import { useFetched } from './fetched.ts'
import { mayAsk } from './may.ts'
import { rowActs } from './row-acts.tsx'
import { siteToday } from './today.ts'
import { Waits } from './waits.tsx'

const kinds = ['scale', 'caliper', 'box', 'stopwatch', 'barAndPlates', 'tape', 'wbgtMeter', 'other'] as const

/** What measures, how far a check may be off, and until when its calibration holds. */
export function EquipmentRegister({ house }: { house: House }) {
  const items = useFetched<Equipment[]>(house, '/api/office/equipment')
  const venue = useFetched<{ stations: PlacedStation[] }>(house, '/api/office/venue')
  const [item, editItem] = useState<Equipment | 'new' | undefined>(undefined)
  const { equipment: say, edit, editNamed, saved } = words.office
  if (!items.value || !venue.value) return <Waits on={items.value ? venue : items} />
  const { stations } = venue.value
  const today = siteToday(house)
  const mayChange = mayAsk(house, 'registerEquipment')
  const ask = async (what: string, noun: string, body: object) => {
    await askOffice(house, saved(what), noun, body)
    await items.refresh()
  }

  return (
    <section class="stack">
      <h2>{say.title}</h2>
      {mayChange && (
        <div class="row">
          <Button kind="primary" onPress={() => editItem('new')}>
            {say.add}
          </Button>
        </div>
      )}
      <DataTable<Equipment>
        caption={say.title}
        captionSpoken
        rows={items.value}
        rowKey={(one) => one.equipmentId}
        empty={{ says: say.empty }}
        columns={[
          { key: 'id', head: say.id, cell: (one) => one.equipmentId, sortBy: (one) => one.equipmentId },
          { key: 'name', head: say.name, cell: (one) => one.name },
          { key: 'kind', head: say.kind, cell: (one) => say.kinds[one.kind] },
          {
            key: 'station',
            head: say.station,
            cell: (one) => stations.find(({ stationId }) => stationId === one.stationId)?.name ?? say.carried,
          },
          {
            key: 'tolerance',
            head: say.tolerance,
            cell: (one) => one.tolerance && say.toleranceSays(one.tolerance.amount, one.tolerance.unit),
          },
          {
            key: 'due',
            head: say.due,
            sortBy: (one) => one.dueOn ?? '9999',
            cell: (one) =>
              one.dueOn && (one.dueOn < today ? <Mark state="notMet" says={`${one.dueOn}, ${say.overdue}`} /> : <span>{one.dueOn}</span>),
          },
          ...rowActs<Equipment>(mayChange, edit, (one) => [
            { says: edit, label: editNamed(one.equipmentId), onPress: () => editItem(one) },
            {
              says: say.retire,
              label: say.retireNamed(one.equipmentId),
              onPress: () => void ask(one.equipmentId, 'equipment-retirements', { equipmentId: one.equipmentId }),
            },
          ]),
        ]}
      />
      {item && (
        <EditItem
          item={item === 'new' ? undefined : item}
          stations={stations}
          onClose={() => editItem(undefined)}
          onSave={(to) => {
            editItem(undefined)
            void (item === 'new' ? ask(to.equipmentId, 'equipment', to) : ask(to.equipmentId, 'equipment-changes', { ...to, seen: item }))
          }}
        />
      )}
    </section>
  )
}

interface EditProps {
  item: Equipment | undefined
  stations: readonly PlacedStation[]
  onClose: () => void
  onSave: (item: Equipment) => void
}

function EditItem({ item, stations, onClose, onSave }: EditProps) {
  const [typed, type] = useState({
    equipmentId: String(item?.equipmentId ?? ''),
    name: item?.name ?? '',
    kind: item?.kind ?? 'scale',
    stationId: String(item?.stationId ?? ''),
    amount: item?.tolerance ? String(item.tolerance.amount) : '',
    unit: item?.tolerance?.unit ?? '',
    dueOn: item?.dueOn ?? '',
    footLineMm: item?.footLineMm == null ? '' : String(item.footLineMm),
  })
  const [wrong, setWrong] = useState('')
  const { equipment: say, save: saveWord, setUp } = words.office
  const set = (field: keyof typeof typed) => (value: string) => type({ ...typed, [field]: value })
  const save = () => {
    const { equipmentId, name, kind, stationId, amount, unit, dueOn, footLineMm } = typed
    if (!/^[A-Za-z0-9][A-Za-z0-9_.-]*$/.test(equipmentId) || name.trim() === '') return setWrong(setUp.missing)
    onSave({
      equipmentId: equipmentId as Equipment['equipmentId'],
      name: name.trim(),
      kind: kind as Equipment['kind'],
      stationId: (stationId || null) as Equipment['stationId'],
      tolerance: /^\d+$/.test(amount) && unit ? { amount: Number(amount), unit } : null,
      dueOn: dueOn || null,
      footLineMm: kind === 'box' && /^\d+$/.test(footLineMm) ? Number(footLineMm) : null,
    })
  }
  return (
    <Dialog
      title={item?.equipmentId ?? say.add}
      open
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={save}>
          {saveWord}
        </Button>
      }
    >
      <div class="office-form">
        {!item && <Field label={say.id} hint={say.idHint} value={typed.equipmentId} onInput={set('equipmentId')} maxLength={40} />}
        <Field label={say.name} value={typed.name} onInput={set('name')} maxLength={80} error={wrong || undefined} />
        <Choice
          label={say.kind}
          value={typed.kind}
          choices={kinds.map((value) => ({ value, says: say.kinds[value] }))}
          onChange={set('kind')}
        />
        <Choice
          label={say.station}
          value={typed.stationId}
          blank={say.carried}
          choices={stations.map(({ stationId, name }) => ({ value: stationId, says: name }))}
          onChange={set('stationId')}
        />
        <Field label={say.tolerance} optional inputMode="numeric" value={typed.amount} onInput={set('amount')} />
        <Field label={say.toleranceUnit} optional value={typed.unit} onInput={set('unit')} maxLength={30} />
        <Field label={say.due} optional type="date" value={typed.dueOn} onInput={set('dueOn')} />
        {typed.kind === 'box' && <Field label={say.footLine} inputMode="numeric" value={typed.footLineMm} onInput={set('footLineMm')} />}
      </div>
    </Dialog>
  )
}
