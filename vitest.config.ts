import { defineConfig } from 'vitest/config'

/** A project a layer; only `*.test.ts` are tests, so benchmarks beside them are never picked up. */
const layer = (name: string) => ({ test: { name, include: [`test/${name}/**/*.test.ts`] } })

export default defineConfig({
  test: {
    projects: [layer('core'), layer('store'), layer('desk')],
  },
})
