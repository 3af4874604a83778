import { demoAcademy, demoDay, type DemoAcademy, type DemoStaff } from '@musterbook/office/demo-academy'
import { DeviceClient } from './device-client.ts'
import { composeHouse, type House, type HouseOptions } from './house.ts'

/** The invented academy in a house of its own, its day open: what the demonstration and the journeys start from. */
export interface OpenAcademy {
  house: House
  academy: DemoAcademy
  dayId: string
  /** The coordinator at the office desk. */
  desk: DeviceClient
  /** Takes one of the academy's devices into use, and signs somebody on there. */
  device(name: string, person?: DemoStaff): Promise<DeviceClient>
}

/** 07:30 on the morning of the demonstration's test day, at a site two hours ahead of UTC. */
export const demoMorning = Date.UTC(2027, 4, 11, 5, 30)

/** `beforeOpening`: what is done at the academy before the day opens, as a class that grows. */
export async function openAcademy(
  options: Omit<HouseOptions, 'startsAt'> & { startsAt?: number },
  beforeOpening: (house: House, academy: DemoAcademy) => Promise<void> = async () => {},
): Promise<OpenAcademy> {
  const house = await composeHouse({ startsAt: demoMorning, ...options })
  const academy = await demoAcademy(house.office, house.clock.now())
  await beforeOpening(house, academy)
  const client = (name: string) => new DeviceClient(house.address, name, house.clock.now)
  const codes = new Map(academy.devices.map((device) => [device.name, device.code]))

  const device = async (name: string, person?: DemoStaff) => {
    const made = client(name)
    const code = codes.get(name)
    if (code === undefined) throw new Error(`the academy has no device called ${name}, or it is in use`)
    codes.delete(name)
    await made.enrol(code)
    if (person) await made.signOn(academy.staff[person].personId, academy.staff[person].pin)
    return made
  }

  const desk = client('Office desk')
  const dayId = await openDemoDay(house, academy, desk)
  return { house, academy, dayId, desk, device }
}

/** The coordinator opens the test day, at the office desk. */
export async function openDemoDay(
  house: House,
  academy: DemoAcademy,
  desk = new DeviceClient(house.address, 'Office desk', house.clock.now),
): Promise<string> {
  desk.takeToken(academy.desk.token)
  await desk.signOn(academy.staff.ines.personId, academy.staff.ines.pin)
  const opened = await desk.post('/api/days', { date: demoDay.date, title: demoDay.title, rehearsal: true, classIds: [academy.classId] })
  if (opened.status !== 201) throw new Error(`the day was not opened: ${JSON.stringify(opened.body)}`)
  return `${academy.siteId}-${demoDay.date}`
}
