// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { count } from '../figures.ts'

export const briefing = {
  title: 'Explicación',
  chooseTitle: 'Qué se explica',
  className: 'Clase',
  stations: 'Pruebas',
  allStations: 'Todas',
  language: 'Idioma de la explicación',
  languages: { en: 'English', es: 'Español', ar: 'العربية' },
  sentencesIn: 'Las frases propias del protocolo se muestran tal como se adoptaron.',
  start: 'Empezar la explicación',
  chooseOne: 'Elija al menos una prueba.',
  page: (n: number, of: number) => `${n} de ${of}`,
  previous: 'Anterior',
  next: 'Siguiente',
  leave: 'Volver a la elección',
  toPresent: 'Quién está presente',
  print: 'Imprimir esta página',
  presentTitle: '¿Quién la ha oído?',
  presentHelp: 'Están marcados todos los que han llegado. Quite a quien no esté aquí.',
  record: (n: number) => count(n, { one: 'Registrar: # estudiante con explicación', other: 'Registrar: # estudiantes con explicación' }),
  nobody: 'De esta clase no ha llegado nadie',
  nobodyHelp: 'Aparecen aquí según llegan.',
  nobodyTicked: 'Marque al menos a un estudiante.',
  recorded: (n: number, tests: string) =>
    count(n, { one: `# estudiante con explicación de ${tests}`, other: `# estudiantes con explicación de ${tests}` }),
  already: 'ya la había oído',
  version: (version: number) => `Versión ${version} del protocolo`,
} satisfies FloorWords['briefing']
