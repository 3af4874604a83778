import { useState } from 'preact/hooks'
import type { HeatHoldRules } from '@musterbook/vocabulary/office'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { Choice, Field, Tick } from '../parts/field/field.tsx'
import { words } from '../words/words.ts'

const populations = ['everyone', 'acclimatised', 'unacclimatised'] as const

interface Props {
  name: string
  unit: 'degC' | 'degF'
  onClose: () => void
  onChosen: (rules: HeatHoldRules) => void
}

/** What no published heat table prints: nothing is filled in that nobody chose. */
export function HoldRulesDialog({ name, unit, onClose, onChosen }: Props) {
  const [typed, type] = useState({ population: '', raise: '', lift: '', dwell: '', settled: '', age: '', contact: '' })
  const [ticked, tick] = useState({ raise: false, lift: false, needed: false, derived: false, latched: false })
  const [wrong, setWrong] = useState('')
  const { rules: say, setUp } = words.office
  const set = (field: keyof typeof typed) => (value: string) => type({ ...typed, [field]: value })
  const turn = (field: keyof typeof ticked) => (value: boolean) => tick({ ...ticked, [field]: value })
  const degrees = unit === 'degC' ? '°C' : '°F'

  const choose = () => {
    const raise = tenths(typed.raise)
    const lift = tenths(typed.lift)
    const [dwell, settled, age, contact] = [typed.dwell, typed.settled, typed.age, typed.contact].map(whole)
    if (raise === undefined || lift === undefined || dwell === undefined || !settled || !age || !contact || !typed.population)
      return setWrong(setUp.missing)
    onChosen({
      population: typed.population as HeatHoldRules['population'],
      readingsNeeded: ticked.needed,
      raise: { tenths: raise, included: ticked.raise },
      lift: { tenths: lift, included: ticked.lift },
      dwellMinutes: dwell,
      settledReadingsToLift: settled,
      readingAgeMinutes: age,
      contactAgeMinutes: contact,
      derivedWetBulbMayLift: ticked.derived,
      latched: ticked.latched,
    })
  }

  return (
    <Dialog
      title={`${say.holdTitle}: ${name}`}
      open
      wide
      onClose={onClose}
      foot={
        <Button kind="primary" onPress={choose}>
          {say.propose}
        </Button>
      }
    >
      <div class="stack">
        <p>{say.holdHelp}</p>
        <div class="office-form">
          <Choice
            label={say.who}
            value={typed.population}
            blank={words.common.unknown}
            choices={populations.map((value) => ({ value, says: say.populations[value] }))}
            onChange={set('population')}
          />
          <Field label={say.raise} unit={degrees} inputMode="decimal" value={typed.raise} onInput={set('raise')} />
          <Field label={say.lift} unit={degrees} inputMode="decimal" value={typed.lift} onInput={set('lift')} />
          <Field label={say.dwell} inputMode="numeric" value={typed.dwell} onInput={set('dwell')} />
          <Field label={say.settled} inputMode="numeric" value={typed.settled} onInput={set('settled')} />
          <Field label={say.age} inputMode="numeric" value={typed.age} onInput={set('age')} />
          <Field label={say.contact} inputMode="numeric" value={typed.contact} onInput={set('contact')} />
        </div>
        <div class="office-ticks">
          <Tick says={say.raiseIncluded} checked={ticked.raise} onChange={turn('raise')} />
          <Tick says={say.liftIncluded} checked={ticked.lift} onChange={turn('lift')} />
          <Tick says={say.needed} checked={ticked.needed} onChange={turn('needed')} />
          <Tick says={say.derived} checked={ticked.derived} onChange={turn('derived')} />
          <Tick says={say.latched} checked={ticked.latched} onChange={turn('latched')} />
        </div>
        {wrong && (
          <p class="office-problem" role="alert">
            {wrong}
          </p>
        )}
      </div>
    </Dialog>
  )
}

function tenths(typed: string): number | undefined {
  const found = /^(\d{1,3})(?:[.,](\d))?$/.exec(typed.trim())
  return found ? Number(found[1]) * 10 + Number(found[2] ?? 0) : undefined
}
const whole = (typed: string): number | undefined => (/^\d{1,4}$/.test(typed.trim()) ? Number(typed) : undefined)
