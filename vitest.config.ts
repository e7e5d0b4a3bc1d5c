import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    reporters: ['default', './test/support/closingLine.ts'],
    testTimeout: 120_000,
    benchmark: { include: ['test/bench/**/*.bench.ts'] },
  },
});
