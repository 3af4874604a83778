import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { BriefingScreen } from './briefing-screen.tsx'

show(<BriefingScreen house={openHouse()} />)
