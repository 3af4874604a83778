// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { line } from './line.ts'

export const briefing = {
  title: 'الشرح',
  chooseTitle: 'ما الذي يُشرح',
  className: 'الصف',
  stations: 'الاختبارات',
  allStations: 'كلها',
  language: 'لغة الشرح',
  languages: { en: 'English', es: 'Español', ar: 'العربية' },
  sentencesIn: 'تظهر جمل البروتوكول نفسه كما اعتُمدت.',
  start: 'بدء الشرح',
  chooseOne: 'اختر اختبارًا واحدًا على الأقل.',
  page: (n: number, of: number) => line`${n} من ${of}`,
  previous: 'السابق',
  next: 'التالي',
  leave: 'العودة إلى الاختيار',
  toPresent: 'من الحاضرون',
  print: 'طباعة هذه الصفحة',
  presentTitle: 'من سمعه؟',
  presentHelp: 'كل من سُجّل حضوره مؤشَّر عليه. أزل من ليس هنا.',
  record: (n: number) => line`تسجيل من شُرح لهم: ${n}`,
  nobody: 'لم يُسجَّل حضور أحد من هذا الصف',
  nobodyHelp: 'يظهرون هنا كلما سُجّل حضورهم.',
  nobodyTicked: 'أشّر على متدرب واحد على الأقل.',
  recorded: (n: number, tests: string) => line`شُرح ${tests}، عدد المتدربين: ${n}`,
  already: 'شُرح له من قبل',
  version: (version: number) => line`نسخة البروتوكول ${version}`,
} satisfies FloorWords['briefing']
