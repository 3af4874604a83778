import type { Language } from '@musterbook/vocabulary/people'
import { line } from './ar/line.ts'

const en = {
  title: 'Emergency card',
  doFirst: 'What to do first',
  call: 'Phone and radio',
  address: 'Where this is',
  meetingPoint: 'Where the ambulance is met',
  equipment: 'Where things are',
  cooling: 'Cooling, as the clinician wrote it',
  hospital: 'Nearest hospital',
  written: (by: string, on: string) => `Written by ${by}, ${on}`,
  adopted: (edition: string, one: string, two: string, on: string) => `Edition ${edition}, adopted by ${one} and ${two}, ${on}`,
  own: 'The words are the site’s own and are shown unedited.',
  pinned: (edition: string) => `This day was opened with edition ${edition}. The newer one is shown.`,
  since: 'This day was opened without a card. One that was adopted since is shown.',
  print: 'Print it',
  none: 'No emergency card was entered for this site',
  noneDo: 'Call the local emergency number and the safety officer.',
  noneThen: 'Tell the office that the card is missing: a coordinator writes it under Rules, and a second person adopts it.',
}

const es: typeof en = {
  title: 'Tarjeta de emergencia',
  doFirst: 'Qué hacer primero',
  call: 'Teléfono y radio',
  address: 'Dónde estamos',
  meetingPoint: 'Dónde se recibe la ambulancia',
  equipment: 'Dónde está cada cosa',
  cooling: 'Enfriamiento, como lo escribió el personal clínico',
  hospital: 'Hospital más cercano',
  written: (by, on) => `Escrita por ${by}, ${on}`,
  adopted: (edition, one, two, on) => `Edición ${edition}, adoptada por ${one} y ${two}, ${on}`,
  own: 'Las palabras son del propio sitio y se muestran sin cambios.',
  pinned: (edition) => `Este día se abrió con la edición ${edition}. Se muestra la más nueva.`,
  since: 'Este día se abrió sin tarjeta. Se muestra una que se adoptó después.',
  print: 'Imprimirla',
  none: 'No se ha escrito ninguna tarjeta de emergencia para este sitio',
  noneDo: 'Llame al número de emergencias local y al responsable de seguridad.',
  noneThen: 'Avise a la oficina de que falta la tarjeta: coordinación la escribe en Rules y una segunda persona la adopta.',
}

const ar: typeof en = {
  title: 'بطاقة الطوارئ',
  doFirst: 'ما يُفعل أولًا',
  call: 'الهاتف واللاسلكي',
  address: 'أين نحن',
  meetingPoint: 'أين تُستقبل سيارة الإسعاف',
  equipment: 'أين الأدوات',
  cooling: 'التبريد كما كتبه الطاقم الطبي',
  hospital: 'أقرب مستشفى',
  written: (by, on) => line`كتبها ${by}، ${on}`,
  adopted: (edition, one, two, on) => line`الإصدار ${edition}، اعتمدها ${one} و${two}، ${on}`,
  own: 'الكلمات للموقع نفسه وتُعرض كما هي.',
  pinned: (edition) => line`فُتح هذا اليوم بالإصدار ${edition}. المعروض هو الأحدث.`,
  since: 'فُتح هذا اليوم من دون بطاقة. المعروضة اعتُمدت بعد ذلك.',
  print: 'اطبعها',
  none: 'لم تُكتب بطاقة طوارئ لهذا الموقع',
  noneDo: 'اتصل برقم الطوارئ المحلي وبمسؤول السلامة.',
  noneThen: 'أخبر المكتب أن البطاقة ناقصة: يكتبها المنسق في Rules ويعتمدها شخص ثانٍ.',
}

/** Of the emergency card alone, in every language of the floor: it comes with the card and stands in no screen's first load. Spanish and Arabic not yet reviewed by a native speaker. */
export const emergencyCardWords: Record<Language, typeof en> = { en, es, ar }
