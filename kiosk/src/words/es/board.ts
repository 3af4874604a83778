// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'

export const board = {
  title: 'Tablero de llamadas',
  now: 'Llamados ahora',
  waiting: 'En espera, por orden',
  underWay: 'En curso',
  nobodyCalled: 'Nadie está llamado',
  nobodyWaits: 'Nadie espera',
  more: (n: number) => `y ${n} más`,
  hold: (zone: string) => `Suspensión: ${zone}`,
  holdSays: 'Allí no empieza nada. El personal dice qué hacer.',
  called: 'Se ha llamado al personal. Alguien viene a este tablero.',
} satisfies FloorWords['board']
