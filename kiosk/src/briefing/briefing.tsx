import { useEffect, useState } from 'preact/hooks'
import type { FloorView } from '@musterbook/day/views/board'
import type { Language } from '@musterbook/vocabulary/people'
import { className, type House } from '../house/house.ts'
import { ChooseBriefing, type Chosen } from './choose.tsx'
import { Pages } from './pages.tsx'
import { Present } from './present.tsx'

/** First what and for whom, then a page a test, then who was present. */
export function Briefing({ house, view }: { house: House; view: FloorView }) {
  const day = house.day.value!
  const classes = [...new Set(view.students.map(({ classId }) => classId))]
  const [step, go] = useState<'choose' | 'pages' | 'present'>('choose')
  const [chosen, choose] = useState<Chosen>({
    classId: classes[0] ?? '',
    stationIds: day.stations.map(({ stationId }) => stationId),
    language: 'en' satisfies Language,
  })
  useEffect(() => scrollTo(0, 0), [step])
  const stations = day.stations.filter(({ stationId }) => chosen.stationIds.includes(stationId))

  if (step === 'pages')
    return (
      <Pages
        dayId={day.dayId}
        stations={stations}
        language={chosen.language}
        onLeave={() => go('choose')}
        onPresent={() => go('present')}
      />
    )
  if (step === 'present')
    return (
      <Present
        house={house}
        students={view.students.filter(({ classId }) => classId === chosen.classId)}
        stations={stations}
        language={chosen.language}
        onBack={() => go('pages')}
        onDone={() => go('choose')}
      />
    )
  return (
    <ChooseBriefing
      day={day}
      classes={classes.map((classId) => ({ classId, name: className(house, classId) }))}
      chosen={chosen}
      onChoose={choose}
      onStart={() => go('pages')}
    />
  )
}
