/**
 * A number of cycles for a person: `about 610,000`. What is worked out is known to two digits at best and says so; a bound
 * or a limit is the number itself.
 */
export const showCycles = (cycles: number, exact: boolean): string =>
  exact ? Math.round(cycles).toLocaleString('en-US') : `about ${Number(cycles.toPrecision(2)).toLocaleString('en-US')}`
