import { checkBundle } from '@musterbook/replay/bundle'
import { pageOf } from './page.ts'

/** Runs inside one file, from a disk and without a network: reads the evidence beside it, checks it, and says what it found. */
const evidence = document.getElementById('evidence')?.textContent ?? ''
document.getElementById('page')?.replaceChildren(...pageOf(checkBundle(evidence)))
