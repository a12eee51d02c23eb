/** `LONG=1` draws everything twenty times as often; another number, that many times longer still. */
export const LONG = Number(process.env.LONG ?? 0)
export const runs = (usual: number): number => (LONG > 0 ? Math.ceil(usual * 20 * LONG) : usual)
