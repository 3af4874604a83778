import type { PinnedEmergencyCard } from '@musterbook/vocabulary/emergency-card'
import { EmergencyCard } from './emergency-card.tsx'
import type { Examples } from '../examples.ts'

const card = {
  doFirst: 'Stay with the person and call for help by radio.\nOne calls the number below, one walks to the gate.',
  call: 'Emergency call: 00 00 00 00 (invented)\nRadio: channel 4',
  address: '1 Invented Road, Skarnvale',
  meetingPoint: 'North gate, beside the timing hut',
  equipment: 'Defibrillator: timing hut, left of the door\nCold tub: shade tent at the track',
  cooling: null,
  hospital: 'Skarnvale Hospital (invented), 12 minutes by road',
  writtenBy: 'P. Holm, clinician (invented)',
  writtenOn: '2026-04-20',
  edition: '2',
  proposedBy: 'ines',
  adoptedBy: 'tomas',
  adoptedOn: '2026-04-21',
} as unknown as PinnedEmergencyCard
const names: Record<string, string> = { ines: 'I. Varga', tomas: 'T. Lindqvist' }
const nameOf = (personId: string) => names[personId] ?? personId

export const examples: Examples = {
  'as the day pinned it': () => <EmergencyCard card={card} nameOf={nameOf} onPrint="/sheets/emergency-card" />,
  'a newer one than the day pinned': () => (
    <EmergencyCard card={{ ...card, cooling: 'As the clinician wrote it.' }} pinned="1" nameOf={nameOf} />
  ),
  'nobody entered one': () => <EmergencyCard card={null} nameOf={nameOf} />,
}
