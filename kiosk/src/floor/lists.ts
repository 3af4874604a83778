import type { FloorView } from '@musterbook/day/views/board'

export type OnFloor = FloorView['students'][number]
export type ListName = 'arrivals' | 'warmUp' | 'queues' | 'leaving'

/** Who stands on which list. Somebody may stand on two: one who came late still has to warm up. */
const belongs: Record<ListName, (student: OnFloor) => boolean> = {
  arrivals: () => true,
  warmUp: ({ presence, warmUp }) => presence === 'present' && warmUp === 'due',
  queues: ({ presence, stations }) => presence === 'present' && stations.some(({ left }) => left),
  leaving: ({ presence, stations, coolDown }) =>
    presence === 'complete' || (presence === 'present' && (coolDown === 'due' || stations.every(({ left }) => !left))),
}

export const listed = (students: readonly OnFloor[], list: ListName): OnFloor[] => students.filter(belongs[list])
