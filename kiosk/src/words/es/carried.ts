// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { count, figure } from '../figures.ts'

export const carried = {
  title: 'Llevado a mano',
  giveOut: 'De esta tableta',
  waiting: (n: number, device: string) =>
    count(n, { one: `# acto está en ${device} y no en el registro.`, other: `# actos están en ${device} y no en el registro.` }),
  nothing: (device: string) => `No hay nada que llevar: en ${device} no espera nada.`,
  giveOutHelp:
    'Para una tableta que hoy ya no alcanzará el sitio. Todo queda también aquí; lo que llega dos veces cuenta una. Las fotos no se llevan.',
  file: 'Guardar como archivo',
  codes: 'Mostrar como códigos',
  codeOf: (n: number, of: number) => `Código ${figure(n)} de ${figure(of)}`,
  before: 'Anterior',
  next: 'Código siguiente',
  bringIn: 'Traer de otra tableta',
  bringInHelp:
    'No se envía nada antes de que usted vea lo que contiene. Cada acto conserva su hora y su persona; usted consta como quien lo llevó.',
  chooseFile: 'El archivo de la otra tableta',
  readCodes: 'Leer sus códigos con la cámara',
  camera: 'Ponga ante la cámara el código de la otra tableta',
  noCamera: 'Aquí no se abrió ninguna cámara. Use el archivo.',
  seen: (n: number, of: number, missing: string) => `${figure(n)} de ${figure(of)} códigos leídos. Faltan por leer: ${missing}`,
  notOne: 'No es el archivo entero y sin cambios de una tableta.',
  again: 'Guárdelo de nuevo en la tableta, o lea otra vez sus códigos.',
  holds: (n: number, device: string) => count(n, { one: `Contiene # acto de ${device}`, other: `Contiene # actos de ${device}` }),
  nobody: 'nadie con la sesión iniciada',
  item: (act: string, about: string | null, clock: string | null, by: string) =>
    [act, about, clock, by].filter((one) => one !== null).join(' · '),
  send: (n: number) => count(n, { one: 'Enviar # acto al registro', other: 'Enviar # actos al registro' }),
  became: {
    recorded: 'en el registro',
    knownAlready: 'ya estaba en el registro',
    refused: 'denegado, y la denegación se conserva',
    kept: 'se conserva entero para el supervisor',
  },
} satisfies FloorWords['carried']
