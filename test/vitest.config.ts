import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    // Tests of the built programs start processes; a busy machine needs more than the usual five seconds.
    testTimeout: 20_000,
  },
})
