/** `npx tsx ops/mirror.ts --centre nats://centre:4222 --site skarnvale`: keeps a mirror of every stream of a site, and says how far it has come. */
import { parseArgs } from 'node:util'
import { connect } from '@nats-io/transport-node'
import { mirrorSite } from './processes/mirrors.ts'

const everyMs = 10_000

const { values } = parseArgs({
  options: {
    centre: { type: 'string', default: 'nats://127.0.0.1:4222' },
    site: { type: 'string' },
    replicas: { type: 'string', default: '1' },
    ca: { type: 'string' },
    certificate: { type: 'string' },
    key: { type: 'string' },
  },
})
const { centre, site, replicas, ca: caFile, certificate: certFile, key: keyFile } = values
const password = process.env.MUSTERBOOK_NATS_MIRROR
if (!site || !password) {
  console.error('Name the site, as --site skarnvale, and put the password of mirror into MUSTERBOOK_NATS_MIRROR.')
  process.exit(1)
}

const connection = await connect({
  servers: centre,
  user: 'mirror',
  pass: password,
  inboxPrefix: '_INBOX_mirror',
  maxReconnectAttempts: -1,
  ...(caFile && certFile && keyFile && { tls: { caFile, certFile, keyFile } }),
})
let said = ''
for (;;) {
  const says = await mirrorSite(connection, site, Number(replicas)).then(
    (all) => all.map(({ stream, of, copied }) => `${stream}: ${copied} of ${of} entries`).join('\n'),
    (error: Error) => `${site} is not reached: ${error.message}`,
  )
  if (says !== said) console.log(`${new Date().toISOString()}\n${says}`)
  said = says
  await new Promise((resolve) => setTimeout(resolve, everyMs))
}
