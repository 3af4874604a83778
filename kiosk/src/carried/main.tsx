import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { CarriedScreen } from './carried-screen.tsx'

show(<CarriedScreen house={openHouse()} />)
