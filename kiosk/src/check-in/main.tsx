import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { CheckInScreen } from './check-in-screen.tsx'

show(<CheckInScreen house={openHouse()} />)
