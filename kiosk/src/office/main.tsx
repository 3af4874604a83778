import '../words/english-only.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { OfficeScreen } from './office-screen.tsx'

show(<OfficeScreen house={openHouse({ standsAlone: false })} />)
