import '../words/english-only.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { ReplayScreen } from './replay-screen.tsx'

show(<ReplayScreen house={openHouse({ standsAlone: false })} />)
