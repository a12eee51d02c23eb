/** Loaded into a measured server: at SIGUSR2 it collects its garbage and says on stderr how much is left. */
const { setFlagsFromString } = require('node:v8')
const { runInNewContext } = require('node:vm')

process.on('SIGUSR2', () => {
  setFlagsFromString('--expose-gc')
  runInNewContext('gc')()
  process.stderr.write(`heap ${process.memoryUsage().heapUsed}\n`)
})
