import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { addressesHere } from './addresses.ts'
import { servedWith } from './certificate-files.ts'
import { composeHouse } from './house.ts'
import { usualCertificateFolder, usualData, usualKeyFile } from './paths.ts'
import { natsOptions, natsSettings, natsUsage } from './processes/nats-settings.ts'
import { roleOf, rolesUsage, startRoles } from './processes/start-roles.ts'
import { builtScreens } from './screens.ts'

const usage = `npm start -- [options]
  --port N              where it listens (4180)
  --host ADDRESS        on which address (127.0.0.1: this machine only)
  --data DIR            the data folder (.data)
  --key FILE            the key file, outside the data folder and its backups (.keys/medical.key)
  --tls                 serves https with the certificate that npm run -s certificate made
  --certificate FILE    with --certificate-key FILE: serves https with another one
  --speed S             a rehearsal whose clock runs S times as fast; opens no real day
  --at ISO-TIME         a rehearsal whose clock starts then; opens no real day
  --no-screens          serves the API alone
Without more it is one process with its ledger in the data folder. Over NATS it is many:
${natsUsage}
${rolesUsage}`

const say = (line: string) => console.log(line)

try {
  await start()
} catch (error) {
  console.error(error instanceof Error ? error.message : error)
  process.exitCode = 1
}

async function start(): Promise<void> {
  const asked = options()
  const screens = async () => (asked.noScreens ? undefined : await builtScreens(say))
  if (asked.nats) {
    const running = await startRoles(asked.role, asked.nats, { ...asked, screens, say, trouble: console.error })
    for (const line of running.says) say(line)
    closeWhenAsked(running)
    return
  }
  const house = await composeHouse({
    ...asked,
    screens: await screens(),
    onProgress: ({ dayId, read, of }) => say(`Reading ${dayId}: ${read} of ${of} entries`),
    onBroken: (error, where) => console.error(where, error),
    onDiskFailed: (reason) => {
      console.error(`Nothing more is recorded: ${reason.message}. Start the server again once the disk is seen to.`)
      // Long enough for whoever watches /health to see why.
      setTimeout(() => process.exit(1), 10_000).unref()
    },
  })

  say(`Musterbook stands at ${house.address}`)
  if (asked.host === '0.0.0.0' || asked.host === '::')
    for (const address of addressesHere()) say(`  from other machines: ${house.address.replace(/\/\/.*:/, `//${address}:`)}`)
  say(
    `Data in ${asked.data}. Key file ${asked.keyFile}: keep it apart from the data and its backups; without it nothing sealed opens again.`,
  )
  if (house.clock.rehearsalOnly)
    say(
      `Rehearsal: the clock says ${new Date(house.clock.now()).toISOString()} and runs at ${house.clock.speed} times its speed. No real day can be opened.`,
    )
  if (house.setUpCode) say(`Not set up yet. Open ${house.address}/set-up and give this one-time code: ${house.setUpCode}`)
  closeWhenAsked(house)
}

function closeWhenAsked(running: { close(): Promise<void> }): void {
  let closing = false
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.on(signal, () => {
      if (closing) process.exit(1)
      closing = true
      say('Closing …')
      running.close().then(
        () => process.exit(0),
        (error) => {
          console.error(error)
          process.exit(1)
        },
      )
    })
}

function options() {
  const { values } = parseArgs({
    options: {
      port: { type: 'string', default: '4180' },
      host: { type: 'string', default: '127.0.0.1' },
      data: { type: 'string', default: usualData },
      key: { type: 'string', default: usualKeyFile },
      tls: { type: 'boolean', default: false },
      certificate: { type: 'string' },
      'certificate-key': { type: 'string' },
      speed: { type: 'string', default: '1' },
      at: { type: 'string' },
      since: { type: 'string' },
      role: { type: 'string' },
      'no-screens': { type: 'boolean', default: false },
      ...natsOptions,
      help: { type: 'boolean', default: false },
    },
  })
  if (values.help) {
    say(usage)
    process.exit(0)
  }
  const port = numberOf('port', values.port, (value) => Number.isInteger(value) && value >= 0 && value <= 65_535)
  const speed = numberOf('speed', values.speed, (value) => value > 0 && value <= 10_000)
  const startsAt = values.at === undefined ? undefined : numberOf('at', String(Date.parse(values.at)), Number.isFinite)
  const since = values.since === undefined ? undefined : numberOf('since', String(Date.parse(values.since)), Number.isFinite)
  const { nats } = values
  if (nats === undefined && (values.role ?? values.since) !== undefined) throw new Error('--role and --since go with --nats.')
  return {
    port,
    host: values.host,
    data: resolve(values.data),
    keyFile: resolve(values.key),
    speed,
    startsAt,
    since,
    noScreens: values['no-screens'],
    role: roleOf(values.role ?? 'all'),
    nats: nats === undefined ? undefined : natsSettings({ ...values, nats }, process.env),
    tls: tlsOf(values),
  }
}

function tlsOf({ tls, certificate, 'certificate-key': key }: { tls: boolean; certificate?: string; 'certificate-key'?: string }) {
  if ((certificate === undefined) !== (key === undefined)) throw new Error('--certificate and --certificate-key go together.')
  if (certificate !== undefined && key !== undefined) return { certificateFile: certificate, keyFile: key }
  if (!tls) return undefined
  const { warning, ...files } = servedWith(usualCertificateFolder, Date.now())
  if (warning) say(warning)
  return files
}

function numberOf(name: string, text: string, fits: (value: number) => boolean): number {
  const value = Number(text)
  if (text.trim() === '' || !fits(value)) throw new Error(`--${name} does not take that value.\n${usage}`)
  return value
}
