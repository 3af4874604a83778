import '../words/floor-screens.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { WeighInScreen } from './weigh-in-screen.tsx'

show(<WeighInScreen house={openHouse()} />)
