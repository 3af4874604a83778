import type { EmergencyCard } from '@musterbook/vocabulary/emergency-card'

/** Invented, for the demonstration: no number leads anywhere, and nothing on it is advice. A real site writes its own. */
export const demoEmergencyCard: EmergencyCard = {
  edition: '1',
  doFirst:
    'INVENTED FOR THE DEMONSTRATION.\nStay with the person and call for help by radio.\nOne calls the number below, one fetches the red bag, one walks to the gate.\nGo on as the academy’s own plan says; it hangs in the timing hut.',
  call: 'Emergency call: 00 00 00 00 (invented)\nMedical room: 00 00 00 17 (invented)\nRadio: channel 4, “Skarnvale medical”',
  address: 'Skarnvale Mountain Rescue Academy, 1 Invented Road, Skarnvale',
  meetingPoint: 'North gate, beside the timing hut. Whoever runs the second track tablet opens it and waits there.',
  equipment:
    'Defibrillator: timing hut, left of the door\nRed bag: timing hut and gym store room\nCold tub: shade tent at the track\nIce box: gym, by the store room',
  cooling: 'As the academy’s clinician wrote it: see the sheet at the cold tub. (Invented.)',
  hospital: 'Skarnvale Hospital (invented), 12 minutes by road. Desk: 00 00 00 42 (invented)',
  writtenBy: 'Petra Holm, invented clinician of the demonstration',
  writtenOn: '2027-04-20',
}
