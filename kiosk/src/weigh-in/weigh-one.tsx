import type { ComponentChildren } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { massQuestion } from '@musterbook/scoring/body-mass'
import type { WeighInView } from '@musterbook/day/views/weigh-in'
import type { EquipmentId, StudentId } from '@musterbook/vocabulary/ids'
import { shown, type House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { StudentCard } from '../parts/student-card/student-card.tsx'
import { tell } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import { gramsOf, inKilograms, padForm } from './kilograms.ts'
import type { Scale } from './scales.ts'

interface Props {
  house: House
  student: WeighInView['students'][number]
  scale: Scale
  /** Beside the keys, above the student. */
  whichScale: ComponentChildren
  onDone: () => void
}

/** The value stands long enough to be read back, and no longer. */
const readBackMs = 20_000

export function WeighOne({ house, student, scale, whichScale, onDone }: Props) {
  const [grams, setGrams] = useState<number | undefined>(undefined)
  const [earlier] = useState(student.mass?.amount)
  const card = shown(house, student.studentId, student.bib)
  useEffect(() => {
    if (grams === undefined) return
    const timer = setTimeout(onDone, readBackMs)
    return () => clearTimeout(timer)
  }, [grams])

  const question = (hundredths: number): string | undefined => {
    const doubt = massQuestion(gramsOf(hundredths), earlier)
    if (!doubt) return undefined
    return doubt.kind === 'jump'
      ? words.weighIn.jump(kg(doubt.earlierGrams))
      : words.weighIn.unusual(kg(doubt.minGrams), kg(doubt.maxGrams))
  }
  const save = async (hundredths: number) => {
    const amount = gramsOf(hundredths)
    setGrams(amount)
    await tell(house, words.weighIn.saved(student.bib ? words.common.bib(student.bib) : card.name), 'weigh', {
      studentId: student.studentId as StudentId,
      mass: { amount, unit: 'grams', resolution: 10, method: 'scale' },
      scaleId: scale.equipmentId as EquipmentId,
      keptUnusual: question(hundredths) !== undefined,
    })
  }

  if (grams === undefined)
    return (
      <section class="stack" aria-label={card.name}>
        <NumberPad
          {...padForm}
          label={words.weighIn.mass}
          unit={words.weighIn.kilograms}
          question={question}
          listening
          onSave={(amount) => void save(amount)}
          head={
            <>
              {whichScale}
              <StudentCard size="large" student={card} />
            </>
          }
        />
        <p class="quiet">{words.weighIn.privateNote}</p>
        <div class="row">
          <Button onPress={onDone}>{words.weighIn.other}</Button>
        </div>
      </section>
    )
  return (
    <section class="sheet stack weigh-in-back" aria-labelledby="read-back">
      <h2 id="read-back">{words.weighIn.readBack}</h2>
      <StudentCard size="large" student={card} />
      <p class="weigh-in-value figures" role="status">
        <strong>{inKilograms(grams)}</strong> {words.weighIn.kilograms}
      </p>
      <p>{words.weighIn.readBackHelp}</p>
      {student.mass?.afterEffort && student.mass.amount === grams && <p class="trouble">{words.weighIn.afterEffort}</p>}
      <div class="row">
        <Button kind="primary" size="key" onPress={onDone}>
          {words.weighIn.confirmRead}
        </Button>
        <Button size="key" onPress={() => setGrams(undefined)}>
          {words.weighIn.again}
        </Button>
      </div>
    </section>
  )
}

const kg = (grams: number) => `${inKilograms(grams)} ${words.weighIn.kilograms}`
