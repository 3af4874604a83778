/** What is used of heat-index, in tests only; it ships without types. */
declare module 'heat-index' {
  const library: { heatIndex(input: { temperature: number; humidity: number; fahrenheit?: boolean }): number }
  export default library
}
