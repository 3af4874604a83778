import { join } from 'node:path'
import type { Tls } from '@musterbook/gateway/listen'
import { gatewayProcess } from './gateway-process.ts'
import type { NatsSettings } from './nats-settings.ts'
import { projectionsProcess } from './projections-process.ts'
import { roles, type Role, type Running } from './role.ts'
import { sharedClock } from './shared-clock.ts'
import { testDayProcess } from './testday-process.ts'
import { weatherProcess } from './weather-process.ts'

interface Options {
  data: string
  keyFile: string
  port: number
  host: string
  speed: number
  startsAt?: number | undefined
  since?: number | undefined
  /** Asked for by the gateway alone. */
  screens: () => Promise<string | undefined>
  tls?: Tls | undefined
  say: (line: string) => void
  trouble: (line: string) => void
}

export const rolesUsage = `  --role ROLE             with --nats: testday, weather, projections, gateway, or all of them in one process (all)
  --since ISO-TIME        a rehearsal over NATS: the machine's time at which its clock stood at --at, the same for every process`

export function roleOf(text: string): Role | 'all' {
  const role = [...roles, 'all' as const].find((each) => each === text)
  if (!role) throw new Error(`--role is one of ${roles.join(', ')}, all.`)
  return role
}

/** One service of a house whose ledger NATS keeps, or all of them. Throws with a sentence when it cannot stand. */
export async function startRoles(asked: Role | 'all', settings: NatsSettings, options: Options): Promise<Running> {
  const clock = sharedClock(options)
  const { data, say, trouble } = options
  const start: Record<Role, () => Promise<Running>> = {
    testday: () => testDayProcess(settings, clock, trouble),
    weather: () => weatherProcess(settings, clock),
    projections: () =>
      projectionsProcess(settings, join(data, 'projections'), ({ dayId, read, of }) => say(`Reading ${dayId}: ${read} of ${of} entries`)),
    gateway: async () =>
      gatewayProcess(settings, clock, {
        ...options,
        screens: await options.screens(),
        onBroken: (error, where) => trouble(`${where} ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`),
      }),
  }

  const running: Running[] = []
  const close = async () => {
    while (running.length > 0) await running.pop()!.close()
  }
  try {
    for (const role of asked === 'all' ? roles : [asked]) running.push(await start[role]())
  } catch (error) {
    await close()
    throw error
  }
  const rehearsal = clock.rehearsalOnly
    ? [
        `Rehearsal: the clock says ${new Date(clock.now()).toISOString()} and runs at ${clock.speed} times its speed. No real day can be opened.`,
      ]
    : []
  return { says: [...running.flatMap(({ says }) => says), ...rehearsal], close }
}
