import { useState } from 'preact/hooks'
import type { EquipmentId } from '@musterbook/vocabulary/ids'
import type { Measured } from '@musterbook/vocabulary/measured'
import type { House } from '../house/house.ts'
import { stands } from '../live/api.ts'
import { Button } from '../parts/button/button.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { gramsOf, inKilograms, padForm } from './kilograms.ts'
import type { Scale } from './scales.ts'

/** A reference mass on the scale: both values, what the register tolerates, and what a failed check would do, before it is recorded. */
export function ScaleCheck({ house, scale, onDone }: { house: House; scale: Scale; onDone: () => void }) {
  const [reference, setReference] = useState<number | undefined>(undefined)
  const [read, setRead] = useState<number | undefined>(undefined)
  const tolerance = scale.tolerance?.unit === 'grams' ? scale.tolerance.amount : undefined
  const off = reference !== undefined && read !== undefined ? read - reference : undefined
  const isWithin = off === undefined || tolerance === undefined ? undefined : Math.abs(off) <= tolerance
  const record = async (passed: boolean) => {
    const said = await tell(house, words.weighIn.checkSaid(scale.name, passed), 'checkEquipment', {
      equipmentId: scale.equipmentId as EquipmentId,
      passed,
      reference: onScale(reference),
      read: onScale(read),
    })
    if (stands(said)) onDone()
  }
  const kg = (grams: number) => `${inKilograms(grams)} ${words.weighIn.kilograms}`

  return (
    <section class="sheet stack" aria-labelledby="check">
      <h2 id="check">{words.weighIn.checkTitle(scale.name)}</h2>
      {off === undefined ? (
        <>
          <p>{words.weighIn.checkHelp}</p>
          <NumberPad
            key={reference === undefined ? 'reference' : 'read'}
            {...padForm}
            label={reference === undefined ? words.weighIn.reference : words.weighIn.read}
            unit={words.weighIn.kilograms}
            save={words.common.continue}
            listening
            head={reference !== undefined && <p>{`${words.weighIn.reference}: ${kg(reference)}`}</p>}
            onSave={(amount) => (reference === undefined ? setReference : setRead)(gramsOf(amount))}
          />
        </>
      ) : (
        <>
          <dl class="weigh-in-both">
            <dt>{words.weighIn.reference}</dt>
            <dd class="figures">{kg(reference!)}</dd>
            <dt>{words.weighIn.read}</dt>
            <dd class="figures">{kg(read!)}</dd>
          </dl>
          <p role="status" class="weigh-in-verdict">
            {tolerance === undefined
              ? words.weighIn.noTolerance
              : (isWithin ? words.weighIn.within : words.weighIn.outside)(kg(Math.abs(off)), kg(tolerance))}
          </p>
          {isWithin !== true && <p class="trouble">{words.weighIn.willReview(scale.today?.weighedSince ?? 0)}</p>}
          <div class="row">
            {isWithin !== false && (
              <Button kind="primary" size="key" onPress={() => void record(true)}>
                {words.weighIn.recordPass}
              </Button>
            )}
            {isWithin !== true && (
              <Button kind={isWithin === false ? 'primary' : 'normal'} size="key" onPress={() => void record(false)}>
                {words.weighIn.recordFail}
              </Button>
            )}
          </div>
        </>
      )}
      <div class="row">
        <Button onPress={onDone}>{words.common.cancel}</Button>
      </div>
    </section>
  )
}

const onScale = (grams: number | undefined): Measured | null =>
  grams === undefined ? null : { amount: grams, unit: 'grams', resolution: 10, method: 'scale' }
