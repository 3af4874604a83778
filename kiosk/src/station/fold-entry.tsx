import { useRef, useState } from 'preact/hooks'
import type { ComponentChildren } from 'preact'
import type { StationStudent } from '@musterbook/day/views/station'
import type { ProtocolOf, SkinfoldSite } from '@musterbook/stations/protocol'
import { circuit, needsThird } from '@musterbook/stations/skinfold'
import type { FoldReading } from '@musterbook/vocabulary/attempt'
import type { House } from '../house/house.ts'
import { Button } from '../parts/button/button.tsx'
import { NumberPad } from '../parts/number-pad/number-pad.tsx'
import { SkinfoldSites } from '../parts/skinfold-sites/skinfold-sites.tsx'
import { words } from '../words/words.ts'
import type { OpenTry, Read, StationActs } from './acts.ts'
import { askAbout } from './asks.ts'
import { useDraft } from './draft.ts'
import { foldForm } from './form.ts'

interface Props {
  house: House
  protocol: ProtocolOf<'skinfold'>
  student: StationStudent
  tried: OpenTry
  acts: StationActs
  head: ComponentChildren
  foot: ComponentChildren
  onRead: (read: Omit<Read, 'photoDigest'>) => void
}

interface Draft {
  folds: FoldReading[]
  kept: boolean
}

/** Every site once round, then once more, a third where the protocol's rule asks. Which site is next, the rule says; staff may take another. */
export function FoldEntry({ protocol, student, tried, acts, head, foot, onRead }: Props) {
  const [draft, write, forget] = useDraft<Draft>(`musterbook.folds.${tried.attemptId}`, { folds: [], kept: false })
  const [picked, pick] = useState<string | null>(null)
  const kept = useRef(false)
  const sites = (student.sites ?? []) as SkinfoldSite[]
  const readings = draft.folds.map((fold, index) => ({ ...fold, site: fold.site as SkinfoldSite, observationId: String(index) }))
  const round = circuit(sites, protocol.details.repeatRule, readings)
  const next = round.state === 'reading' ? round.next : null
  const site = picked ?? next
  const of = (name: string) => draft.folds.filter((fold) => fold.site === name).map((fold) => fold.halfMillimetres)
  const rule = {
    unit: 'halfMillimetres' as const,
    resolution: 1,
    askJump: protocol.askJump,
    plausible: { min: protocol.details.foldMin, max: protocol.details.foldMax },
  }

  const read = (padded: number) => {
    if (!site) return
    write({ folds: [...draft.folds, { site, halfMillimetres: foldForm.amountOf(padded) }], kept: draft.kept || kept.current })
    kept.current = false
    pick(null)
  }
  const answered = ({ question, kept: isKept }: { question: string; kept: boolean }) => {
    kept.current = isKept
    acts.answer('unusualValue', student.studentId, tried.attemptId, question, isKept ? 'keep' : 'retype')
  }
  const told = (
    <>
      {head}
      <SkinfoldSites
        current={site ?? ''}
        onChoose={pick}
        sites={sites.map((name) => ({
          site: name,
          name: words.station.sites[name] ?? name,
          readingsHalfMm: of(name),
          thirdAsked: asksThird(of(name), protocol),
        }))}
      />
      {draft.folds.length > 0 && (
        <Button kind="quiet" size="small" onPress={() => write({ ...draft, folds: draft.folds.slice(0, -1) })}>
          {words.station.takeBackFold}
        </Button>
      )}
    </>
  )
  const save = () => {
    forget()
    onRead({
      outcome: 'good',
      value: null,
      folds: draft.folds,
      fault: null,
      keptUnusual: draft.kept,
      says: words.station.foldsSaved(draft.folds.length),
    })
  }

  if (!site)
    return (
      <div class="work">
        <div class="work-told">{told}</div>
        <div class="work-main all-read">
          <p class="all-read-says">{words.station.allRead}</p>
          <Button kind="primary" size="key" wide onPress={save}>
            {words.station.saveAll}
          </Button>
          {foot}
        </div>
      </div>
    )
  return (
    <NumberPad
      key={`${site}-${draft.folds.length}`}
      {...foldForm}
      label={words.station.foldLabel(words.station.sites[site] ?? site, of(site).length + 1)}
      unit={foldForm.sign}
      question={(padded) => askAbout(foldForm.amountOf(padded), rule, of(site))}
      onAnswered={answered}
      onSave={read}
      head={told}
      foot={foot}
    />
  )
}

const asksThird = ([first, second]: readonly number[], { details }: ProtocolOf<'skinfold'>): boolean =>
  first !== undefined && second !== undefined && needsThird(details.repeatRule, first, second)
