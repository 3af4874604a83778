import '../words/english-only.ts'
import { show } from '../start.tsx'
import { NeedsServer } from './needs-server.tsx'

show(<NeedsServer />)
