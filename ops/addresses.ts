import { networkInterfaces } from 'node:os'

/** Under which addresses other machines on the network reach this one. */
export const addressesHere = (): string[] =>
  Object.values(networkInterfaces()).flatMap((addresses = []) =>
    addresses.filter(({ internal, family }) => !internal && family === 'IPv4').map(({ address }) => address),
  )
