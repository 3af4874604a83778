import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { SafetyScreen } from './safety-screen.tsx'

show(<SafetyScreen house={openHouse()} />)
