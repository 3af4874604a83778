import { useState } from 'preact/hooks'
import type { StationStudent, StationView } from '@musterbook/day/views/station'
import { shown, type House } from '../house/house.ts'
import { keepPhoto, unsentPhotos } from '../house/photo-box.ts'
import { Button } from '../parts/button/button.tsx'
import { TakePhoto } from '../parts/evidence-photo/evidence-photo.tsx'
import { openCard, sayNo } from '../shell/shell.tsx'
import { words } from '../words/words.ts'
import type { OpenTry, Read, StationActs } from './acts.ts'
import { RefusedHere } from './answer.tsx'
import { FaultDialog } from './fault-dialog.tsx'
import { FoldEntry } from './fold-entry.tsx'
import { LiftEntry } from './lift-entry.tsx'
import { StoppedNotice } from './stopped-notice.tsx'
import { Told } from './told.tsx'
import { ValueEntry } from './value-entry.tsx'

interface Props {
  house: House
  view: StationView
  student: StationStudent
  tried: OpenTry
  acts: StationActs
  /** A hand is on it: from here on it stays open on this tablet, whatever another one records. */
  onTouch: () => void
  onRead: (read: Read) => void
  onRelease: () => void
  onLeave: () => void
}

/** A try under way: the kind of the protocol picks how it is read. */
export function Entry({ house, view, student, tried, acts, onTouch, onRead, onRelease, onLeave }: Props) {
  const [faulting, setFaulting] = useState(false)
  const [photoDigest, setPhoto] = useState<string | null>(null)
  const take = (picture: File) => keepPhoto(picture).then(setPhoto, () => sayNo(house, words.evidence.broken, words.evidence.brokenNext))
  const read = (seen: Omit<Read, 'photoDigest'>) => onRead({ ...seen, photoDigest })
  const { protocol } = view
  const known = student.attempts.find((attempt) => attempt.attemptId === tried.attemptId)
  const isRecorded = known?.status === 'recorded'
  const head = (
    <Told house={house} view={view} student={student} says={saysOf(tried, student)}>
      {isRecorded && (
        <p class="entry-note" role="status">
          {words.station.otherTablet}
        </p>
      )}
      {known?.status === 'interrupted' && (
        <p class="entry-note" role="alert">
          {words.station.interruptedNow}
        </p>
      )}
    </Told>
  )
  const endedBy = known?.status === 'interrupted' && known.interruptedBy !== 'hold' ? known.interruptedBy : null
  const isUnseen = !known && tried.number === 0 && tried.official
  const foot = (
    <div class="entry-foot">
      <TakePhoto taken={photoDigest !== null} onTake={(picture) => void take(picture)} />
      {unsentPhotos.value > 0 && <p role="status">{words.evidence.unsent(unsentPhotos.value)}</p>}
      <Button onPress={() => setFaulting(true)}>{words.station.fault}</Button>
      {isRecorded || isUnseen || known?.status === 'interrupted' ? (
        <Button kind="quiet" onPress={onLeave}>
          {isRecorded ? words.station.noSecond : words.common.close}
        </Button>
      ) : (
        <Button kind="quiet" onPress={onRelease}>
          {words.station.release}
        </Button>
      )}
    </div>
  )
  const shared = { house, student, tried, acts, head, foot, onRead: read }

  return (
    <div class="entry" onPointerDownCapture={onTouch} onKeyDownCapture={onTouch}>
      <RefusedHere house={house} />
      {endedBy && (
        <StoppedNotice
          attemptId={tried.attemptId}
          bib={student.bib}
          name={shown(house, student.studentId, student.bib).name}
          because={endedBy}
          onCard={() => void openCard(house)}
        />
      )}
      {protocol.kind === 'skinfold' ? (
        <FoldEntry {...shared} protocol={protocol} />
      ) : protocol.kind === 'loaded' ? (
        <LiftEntry {...shared} protocol={protocol} />
      ) : (
        <ValueEntry {...shared} protocol={protocol} />
      )}
      <FaultDialog
        protocol={protocol}
        open={faulting}
        onClose={() => setFaulting(false)}
        onFault={(outcome, fault, says) => read({ outcome, value: null, folds: [], fault, keptUnusual: false, says })}
      />
    </div>
  )
}

function saysOf(tried: OpenTry, student: StationStudent): string {
  if (!tried.official) return words.station.practice
  return tried.number > 0 ? words.station.tryOf(tried.number, student.tries) : words.station.official
}
