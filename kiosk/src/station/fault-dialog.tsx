import type { Protocol } from '@musterbook/stations/protocol'
import type { Outcome } from '@musterbook/vocabulary/attempt'
import { Button } from '../parts/button/button.tsx'
import { Dialog } from '../parts/confirm-dialog/confirm-dialog.tsx'
import { words } from '../words/words.ts'
import { faultInWords } from './fault-words.ts'

interface Props {
  protocol: Protocol
  open: boolean
  onClose: () => void
  onFault: (outcome: Outcome, fault: string, says: string) => void
}

/** The protocol's own list: what voids a try, and what spoils one through nobody's fault. */
export function FaultDialog({ protocol, open, onClose, onFault }: Props) {
  const say = (outcome: Outcome, fault: string) => {
    onClose()
    onFault(outcome, fault, faultInWords(fault))
  }
  return (
    <Dialog title={words.station.faultTitle} open={open} onClose={onClose} wide>
      <Faults
        title={words.station.faultVoids}
        faults={protocol.faults}
        onFault={(fault) => say(protocol.kind === 'loaded' ? 'noLift' : 'foul', fault)}
      />
      <Faults title={words.station.faultRerun} faults={protocol.noFaults} onFault={(fault) => say('noFaultRerun', fault)} />
      <Faults title={words.station.faultStopped} faults={['stoppedByChoice']} onFault={(fault) => say('didNotFinish', fault)} />
    </Dialog>
  )
}

function Faults({ title, faults, onFault }: { title: string; faults: readonly string[]; onFault: (fault: string) => void }) {
  if (faults.length === 0) return null
  return (
    <section class="stack">
      <h3>{title}</h3>
      <div class="row">
        {faults.map((fault) => (
          <Button key={fault} onPress={() => onFault(fault)}>
            {faultInWords(fault)}
          </Button>
        ))}
      </div>
    </section>
  )
}
