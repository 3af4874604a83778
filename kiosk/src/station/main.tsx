import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { StationScreen } from './station-screen.tsx'

show(<StationScreen house={openHouse()} />)
