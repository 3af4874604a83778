/** `npm run -s certificate`: a certificate for this machine that tablets can trust, and the authority of its own that they trust it by. */
import { hostname } from 'node:os'
import { parseArgs } from 'node:util'
import { makeCertificate, renewCertificate, type Made } from './certificate-files.ts'
import { addressesHere } from './addresses.ts'
import { usualCertificateFolder, usualData } from './paths.ts'

const usage = `npm run -s certificate -- [options]
  --name NAME           one more name or address under which tablets reach this machine (may stand several times)
  --folder DIR          where it is kept (.keys/certificate): outside the data folder and its backups
  --data DIR            the data folder, in which no key may lie (.data)
  --renew               a new certificate under the authority that is there: tablets keep trusting it`

try {
  await run()
} catch (error) {
  console.error(error instanceof Error ? error.message : error)
  process.exitCode = 1
}

async function run(): Promise<void> {
  const { values } = parseArgs({
    options: {
      name: { type: 'string', multiple: true, default: [] },
      folder: { type: 'string', default: usualCertificateFolder },
      data: { type: 'string', default: usualData },
      renew: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  })
  if (values.help) return console.log(usage)
  const machine = hostname().toLowerCase()
  const names = [
    'localhost',
    machine,
    ...(machine.includes('.') ? [] : [`${machine}.local`]),
    '127.0.0.1',
    ...addressesHere(),
    ...values.name,
  ]
  const wanted = { folder: values.folder, data: values.data, names: [...new Set(names)] }
  say(values.renew ? await renewCertificate(wanted) : await makeCertificate(wanted))
}

function say({ authorityFile, names, until, fingerprint }: Made): void {
  console.log(`Put this file on every tablet, and keep all others here: ${authorityFile}`)
  console.log(`Its fingerprint, to compare on the tablet (SHA-256): ${fingerprint}`)
  console.log(`The certificate holds until ${until} for: ${names.join(', ')}`)
  console.log('Serve with it: npm start -- --host 0.0.0.0 --tls')
  console.log('How tablets come to trust it, one page: ops/CERTIFICATE.md')
}
