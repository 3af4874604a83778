import '../words/english-only.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { SetUpScreen } from './set-up-screen.tsx'

show(<SetUpScreen house={openHouse()} />)
