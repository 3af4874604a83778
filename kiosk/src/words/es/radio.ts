// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'

export const radio = {
  contact: 'Contacto con el sitio',
  contactOld: 'No se puede confirmar el estado de suspensión. Avise por radio a la persona responsable de seguridad.',
  safetyOfficer: 'Responsable de seguridad',

  open: 'Anotar una confirmación por radio',
  openDetail: 'La manera de seguir sin contacto',
  title: '¿Qué se dijo por radio?',
  helpWave: 'Llame por radio al responsable de seguridad y pregunte si hay una suspensión en vigor. Su palabra vale solo para esta tanda.',
  helpStation:
    'Llame por radio al responsable de seguridad y pregunte si hay una suspensión en vigor. Su palabra vale solo para esta estación.',
  who: 'Quién dio la palabra',
  whoBlank: 'Elija quién',
  whoMissing: 'Diga quién contestó por radio.',
  words: 'Sus palabras',
  wordsHint: 'Tal como se dijeron. Por ejemplo: no hay suspensión en vigor en la pista.',
  wordsMissing: 'Escriba lo que se dijo.',
  period: (minutes: number) => `Vale ${minutes} min desde ahora. La hora se toma al anotarla; al lado queda quién la anotó.`,
  save: 'Anotarla',
  told: 'Confirmación por radio',
  covers: (who: string, until: string) => `Palabra de ${who} por radio, vale hasta las ${until}`,
} satisfies FloorWords['radio']
