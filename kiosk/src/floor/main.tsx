import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { FloorScreen } from './floor-screen.tsx'

show(<FloorScreen house={openHouse()} />)
