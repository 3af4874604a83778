/** What is used of psychrolib, which ships without types: the equations of ASHRAE Fundamentals 2017, chapter 1. */
declare module 'psychrolib' {
  interface Psychrometrics {
    readonly SI: number
    SetUnitSystem(system: number): void
    GetTWetBulbFromRelHum(dryBulb: number, relativeHumidity: number, pressure: number): number
    GetRelHumFromTWetBulb(dryBulb: number, wetBulb: number, pressure: number): number
    GetTDewPointFromRelHum(dryBulb: number, relativeHumidity: number): number
    GetSatVapPres(temperature: number): number
  }
  const psychrolib: Psychrometrics
  export default psychrolib
}
