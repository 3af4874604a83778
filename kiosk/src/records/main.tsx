import '../words/english-only.ts'
import { openHouse } from '../house/house.ts'
import { show } from '../start.tsx'
import { RecordsScreen } from './records-screen.tsx'

show(<RecordsScreen house={openHouse()} />)
