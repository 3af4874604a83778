import { figure } from '../figures.ts'

export const cautions = {
  title: 'About this tablet',
  battery: (percent: number, minutes: number | null) =>
    `Battery ${figure(percent)} %${minutes === null ? '' : `, about ${figure(minutes)} min left`}. Plug it in or swap the tablet now.`,
  storage: 'Storage on this tablet is nearly full. Bring it into contact so that it sends what it keeps, or swap it.',
  newVersion:
    'A new version of this screen waits. It takes over once nobody is signed on here and nothing is under way; what is kept here stays.',
  clocks: (seconds: number) =>
    `The clocks of this tablet disagree by ${figure(seconds)} s. Times taken here meanwhile wait for the supervisor; note them by a hand watch as well.`,
}
