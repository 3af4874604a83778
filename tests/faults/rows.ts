import { bentCopies } from './bent-copies.ts'
import { killed, leaderFaults, paused } from './cluster-faults.ts'
import { diskFull, failingDisk } from './disk-full.ts'
import type { Findings } from './findings.ts'
import { killHouse, serviceFaults } from './house-faults.ts'
import { killWriter, pauseWriter } from './kill-writer.ts'
import { partitions } from './partitions.ts'
import { powerLoss } from './power-loss.ts'
import { chance } from '@musterbook/day/outlook/chance'
import { soak } from './soak.ts'
import { soakTablets } from './soak-tablets.ts'

interface Asked {
  rounds: number
  /** A folder of this run's own. */
  folder: string
  seed: number
  progress: (round: number) => void
}

interface Row {
  name: string
  /** Rounds in the long form, and in the one that `npm test` runs. */
  long: number
  short: number
  run: (asked: Asked) => Findings | Promise<Findings>
}

const services = ['testday', 'weather', 'projections', 'gateway'] as const

/** The table of faults, one line each. */
export const rows: readonly Row[] = [
  {
    name: 'kill -9 of the whole house over HTTP',
    long: 200,
    short: 3,
    run: ({ rounds, progress }) => killHouse(rounds, progress),
  },
  {
    name: 'soak: twelve devices over HTTP',
    long: 10_000,
    short: 300,
    run: ({ rounds, seed, progress }) => soak(rounds, chance(seed), progress),
  },
  {
    name: 'soak: twelve tablets in Chromium',
    long: 10_000,
    short: 300,
    run: ({ rounds, seed, progress }) => soakTablets(rounds, chance(seed), progress),
  },
  {
    name: 'kill -9 of the SQLite writer',
    long: 200,
    short: 6,
    run: ({ folder, rounds, progress }) => killWriter(folder, rounds, progress),
  },
  { name: 'pause of the SQLite writer', long: 20, short: 1, run: ({ folder, rounds, progress }) => pauseWriter(folder, rounds, progress) },
  {
    name: 'torn or bent copies of the file',
    long: 10_000,
    short: 300,
    run: ({ folder, rounds, seed, progress }) => bentCopies(folder, rounds, chance(seed), progress),
  },
  {
    name: 'power loss under SQLite',
    long: 1_000,
    short: 40,
    run: ({ folder, rounds, seed, progress }) => powerLoss(folder, rounds, chance(seed), progress),
  },
  { name: 'disk full under SQLite', long: 1, short: 1, run: ({ folder }) => diskFull(folder) },
  { name: 'disk that fails under SQLite', long: 1, short: 1, run: ({ folder }) => failingDisk(folder) },
  { name: 'kill -9 of one NATS server', long: 20, short: 1, run: ({ rounds, progress }) => leaderFaults(1, rounds, killed, progress) },
  { name: 'kill -9 of the leader of three', long: 20, short: 1, run: ({ rounds, progress }) => leaderFaults(3, rounds, killed, progress) },
  { name: 'pause of the leader of three', long: 20, short: 1, run: ({ rounds, progress }) => leaderFaults(3, rounds, paused, progress) },
  { name: 'partition: one of three cut off', long: 10, short: 1, run: ({ rounds, progress }) => partitions('one', rounds, progress) },
  { name: 'partition: two of three cut off', long: 10, short: 1, run: ({ rounds, progress }) => partitions('two', rounds, progress) },
  {
    name: 'partition: the leader and the others apart',
    long: 10,
    short: 1,
    run: ({ rounds, progress }) => partitions('leaderFromOthers', rounds, progress),
  },
  ...services.flatMap((role): Row[] => [
    {
      name: `kill -9 of ${role} over NATS`,
      long: 20,
      short: 1,
      run: ({ rounds, progress }) => serviceFaults([role], 'kill -9', rounds, progress),
    },
    {
      name: `pause of ${role} over NATS`,
      long: 20,
      short: 1,
      run: ({ rounds, progress }) => serviceFaults([role], 'pause', rounds, progress),
    },
  ]),
]
