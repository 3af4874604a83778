import type { SafetyView } from '@musterbook/day/views/safety'
import { Button } from '../parts/button/button.tsx'
import { Mark } from '../parts/mark/mark.tsx'
import { words } from '../words/words.ts'
import type { Receipt } from './acts.ts'
import { wbgtSays } from './wbgt-says.ts'

interface Props {
  safety: SafetyView
  readingId: string
  receipt: Receipt
  settled: boolean
  saidEarly?: boolean
  estimated?: boolean
  onConfirm: () => void
  onAnother: () => void
}

/** Received is one word, in force another: the second only once the day's own view shows it. */
export function Received({ safety, readingId, receipt, settled, saidEarly, estimated, onConfirm, onAnother }: Props) {
  const isInForce = safety.readings.some((one) => one.readingId === readingId)
  return (
    <section class="received" role="status">
      <p class="received-value figures">
        {receipt.wbgtTenths === null
          ? words.safety.receivedNone
          : words.safety.received(wbgtSays({ ...receipt, method: estimated ? 'estimate' : 'instrument' }))}
      </p>
      <Mark state={isInForce ? 'done' : 'waiting'} says={isInForce ? words.safety.becameForce : words.safety.notYetForce} />
      {receipt.calledHold && <Mark state="hold" says={words.safety.calledHold} />}
      {!settled && <Mark state="unknown" says={words.safety.notSettledSaid} />}
      {saidEarly && <Mark state="unknown" says={words.safety.earlyKept} />}
      {estimated && <Mark state="unknown" says={words.safety.estimate.neverLifts} />}
      {receipt.questions.length > 0 && (
        <div class="run-question">
          <p>{words.safety.stillAsked}</p>
          <ul class="run-sentences">
            {receipt.questions.map((question) => (
              <li key={question}>{(words.readingChecks as Record<string, string | undefined>)[question] ?? question}</li>
            ))}
          </ul>
          <Button onPress={onConfirm}>{words.safety.confirmAgain}</Button>
        </div>
      )}
      <div>
        <Button onPress={onAnother}>{words.safety.takeAnother}</Button>
      </div>
    </section>
  )
}
