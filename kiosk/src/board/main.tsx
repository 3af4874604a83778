import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { BoardScreen } from './board-screen.tsx'

show(<BoardScreen house={openHouse()} />)
