// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { line } from './line.ts'

export const board = {
  title: 'لوحة النداء',
  now: 'نودي عليهم الآن',
  waiting: 'المنتظرون، التالي أولًا',
  underWay: 'جارون',
  nobodyCalled: 'لم يُنادَ على أحد',
  nobodyWaits: 'لا أحد ينتظر',
  more: (n: number) => line`و${n} غيرهم`,
  hold: (zone: string) => line`تعليق: ${zone}`,
  holdSays: 'لا يبدأ شيء هناك. الطاقم يقول ما العمل.',
  called: 'نودي على الطاقم. سيأتي أحدهم إلى هذه اللوحة.',
} satisfies FloorWords['board']
