import '../words/english-only.ts'
import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { MedicalScreen } from './medical-screen.tsx'

show(<MedicalScreen house={openHouse({ standsAlone: false })} />)
