import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { demoAcademy } from '@musterbook/office/demo-academy'
import type { AcademyNotes } from './demo/floor.ts'
import { demoMorning, openDemoDay } from './academy.ts'
import { composeHouse } from './house.ts'
import { builtScreens } from './screens.ts'

/*
 * The server of the demonstration: an ordinary house whose clock runs at a chosen speed, set up as the invented academy the
 * first time. Started by `npm run demo`; killed and started again on the same folder it carries on.
 */
const { values } = parseArgs({
  options: {
    port: { type: 'string', default: '4180' },
    data: { type: 'string' },
    key: { type: 'string' },
    speed: { type: 'string', default: '60' },
    // Where the clock goes on after a restart, epoch ms.
    at: { type: 'string' },
    bare: { type: 'boolean', default: false },
  },
})
if (!values.data || !values.key) throw new Error('--data and --key are needed')

const screens = values.bare ? undefined : await builtScreens(() => {})
const house = await composeHouse({
  data: values.data,
  keyFile: values.key,
  port: Number(values.port),
  host: '127.0.0.1',
  speed: Number(values.speed),
  startsAt: values.at === undefined ? demoMorning : Number(values.at),
  screens,
  // Its PINs are printed for everybody to read.
  pinCost: 2 ** 12,
  onBroken: (error, where) => console.error(where, error),
})
const notesFile = join(values.data, 'academy.json')
if (!existsSync(notesFile)) {
  const academy = await demoAcademy(house.office, house.clock.now())
  const dayId = await openDemoDay(house, academy)
  writeFileSync(notesFile, JSON.stringify({ ...academy, dayId } satisfies AcademyNotes))
}
console.log(JSON.stringify({ address: house.address, notes: JSON.parse(readFileSync(notesFile, 'utf8')) as AcademyNotes }))
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => void house.close().then(() => process.exit(0)))
