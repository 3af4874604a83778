// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { line } from './line.ts'

export const radio = {
  contact: 'الاتصال بالموقع',
  contactOld: 'لا يمكن تأكيد حالة التعليق. اتصل بمسؤول السلامة باللاسلكي.',
  safetyOfficer: 'مسؤول السلامة',

  open: 'تسجيل تأكيد عبر اللاسلكي',
  openDetail: 'الطريق للمتابعة دون اتصال',
  title: 'ماذا قيل عبر اللاسلكي؟',
  helpWave: 'اتصل لاسلكيا بمسؤول السلامة واسأل إن كان هناك إيقاف ساري. كلمته تخص هذه المجموعة وحدها.',
  helpStation: 'اتصل لاسلكيا بمسؤول السلامة واسأل إن كان هناك إيقاف ساري. كلمته تخص هذه المحطة وحدها.',
  who: 'من أعطى الكلمة',
  whoBlank: 'اختر الشخص',
  whoMissing: 'اذكر من أجاب عبر اللاسلكي.',
  words: 'كلماته',
  wordsHint: 'كما قيلت. مثلا: لا إيقاف ساري في المضمار.',
  wordsMissing: 'اكتب ما قيل.',
  period: (minutes: number) => line`تسري ${minutes} دقيقة من الآن. يؤخذ الوقت عند التسجيل، ويبقى اسم من سجلها بجانبها.`,
  save: 'تسجيلها',
  told: 'تأكيد عبر اللاسلكي',
  covers: (who: string, until: string) => line`كلمة ${who} عبر اللاسلكي، تسري حتى ${until}`,
} satisfies FloorWords['radio']
