/** Random tests draw the same for every mutant, so that what differs is the mutant's doing. */
import * as fc from 'fast-check'

fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: Number(process.env.DOORWRIGHT_SEED) })
