import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { PaperScreen } from './paper-screen.tsx'

show(<PaperScreen house={openHouse()} />)
