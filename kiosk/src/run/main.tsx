import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { RunScreen } from './run-screen.tsx'

show(<RunScreen house={openHouse()} />)
