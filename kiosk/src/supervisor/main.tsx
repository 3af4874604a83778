import '../words/english-only.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { SupervisorScreen } from './supervisor-screen.tsx'

show(<SupervisorScreen house={openHouse({ standsAlone: false })} />)
